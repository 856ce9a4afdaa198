import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Refusal } from '../../../src/base/findings.ts';
import { readStock, rollSchema } from '../../../src/run/run-file.ts';
import { forgetRoll, rememberRoll } from '../../../src/web/workshop/stock-file.ts';
import type { Workshop } from '../../../src/web/workshop/workshop.ts';

let shop: Workshop;
let file = '';

beforeEach(() => {
  const root = mkdtempSync(join(tmpdir(), 'stock-'));
  shop = { patterns: join(root, 'patterns'), shared: join(root, 'shared'), out: join(root, 'out') };
  mkdirSync(join(shop.shared, 'materials'), { recursive: true });
  // What the shop has is told by the names alone.
  for (const name of ['loop', 'rubber', 'felt']) {
    writeFileSync(join(shop.shared, `materials/${name}.yaml`), '');
  }
  file = join(shop.shared, 'rolls.yaml');
});

afterEach(() => rmSync(join(shop.shared, '..'), { recursive: true }));

const known = `# The rack by the door.
rolls:
  # bought in spring
  rubber: { name: R9, length: 800 } # half used
  loop:
    - { name: end, length: 900 }
    - name: L2
      length: 5000
`;

function roll(more: object) {
  return rollSchema.parse(more);
}

/** What is said of the rolls in the file, defaults and all. */
function rolls(): Record<string, unknown> {
  return readStock(file).rolls;
}

describe('a roll that is kept', () => {
  it('begins a file where there is none', () => {
    rememberRoll(shop, 'loop', roll({ name: 'L1', length: 4000, dyeLot: '7' }));
    expect(rolls()).toEqual({ loop: [roll({ name: 'L1', length: 4000, dyeLot: '7' })] });
    expect(readFileSync(file, 'utf8')).toMatch(/^# /);
  });

  it('joins others of its material, one or several, and leaves all else and the comments', () => {
    writeFileSync(file, known);
    rememberRoll(shop, 'rubber', roll({ name: 'R10' }));
    rememberRoll(shop, 'loop', roll({ name: 'L3', width: 1500 }));
    rememberRoll(shop, 'felt', roll({ name: 'F1' }));
    expect(rolls()).toEqual({
      rubber: [roll({ name: 'R9', length: 800 }), roll({ name: 'R10' })],
      loop: [
        roll({ name: 'end', length: 900 }),
        roll({ name: 'L2', length: 5000 }),
        roll({ name: 'L3', width: 1500 }),
      ],
      felt: [roll({ name: 'F1' })],
    });
    const text = readFileSync(file, 'utf8');
    expect(text).toContain('# The rack by the door.');
    expect(text).toContain('# bought in spring');
  });

  it('takes the place of the one of its name', () => {
    writeFileSync(file, known);
    rememberRoll(shop, 'loop', roll({ name: 'end', length: 700 }));
    expect([rolls()['loop']].flat()).toHaveLength(2);
    expect(rolls()['loop']).toContainEqual(roll({ name: 'end', length: 700 }));
    expect(rolls()['rubber']).toEqual(roll({ name: 'R9', length: 800 }));
  });

  it('takes no place of one of another colour, nor is it forgotten with one', () => {
    const claret = roll({ name: 'R1', colour: 'claret', length: 2500 });
    const navy = roll({ name: 'R1', colour: 'navy', length: 3100 });
    for (const one of [claret, navy]) rememberRoll(shop, 'loop', one);
    expect(rolls()).toEqual({ loop: [claret, navy] });
    rememberRoll(shop, 'loop', { ...navy, length: 900 });
    expect(rolls()).toEqual({ loop: [claret, { ...navy, length: 900 }] });
    forgetRoll(shop, 'loop', 'R1', 'navy');
    expect(rolls()).toEqual({ loop: [claret] });
    forgetRoll(shop, 'loop', 'R1');
    expect(rolls()).toEqual({ loop: [claret] });
  });

  it('keeps its shape and faults, and not what lay on it in a run', () => {
    const square: [number, number][] = [
      [0, 0],
      [900, 0],
      [900, 600],
    ];
    const pins = [{ part: 'floor.1.A1', at: [1, 2], rotation: 0 }];
    const shape = { name: 'rest', outline: square, defects: [square, square.toReversed()] };
    rememberRoll(shop, 'loop', roll({ ...shape, pins, laid: pins }));
    expect(rolls()).toEqual({ loop: [roll(shape)] });
  });

  it.each(['nylon', '../loop', '', 'loop\n', 'constructor', '__proto__'])(
    'is refused where the shop has no such material: %j',
    (material) => {
      writeFileSync(file, known);
      expect(() => rememberRoll(shop, material, roll({ name: 'L1' }))).toThrow(/has no material/);
      expect(readFileSync(file, 'utf8')).toBe(known);
    },
  );

  it('has a name', () => {
    expect(() => rememberRoll(shop, 'loop', roll({ length: 5 }))).toThrow(/kept under its name/);
    expect(existsSync(file)).toBe(false);
  });

  it('is refused where its name is the number of another: the file would not be read again', () => {
    const numbered = 'rolls:\n  loop:\n    - { length: 900 }\n    - { length: 800 }\n';
    writeFileSync(file, numbered);
    expect(() => rememberRoll(shop, 'loop', roll({ name: '2' }))).toThrow(Refusal);
    expect(readFileSync(file, 'utf8')).toBe(numbered);
  });

  it('is not written into a file that is broken', () => {
    writeFileSync(file, 'rolls: { loop: { length: much } }\n');
    expect(() => rememberRoll(shop, 'loop', roll({ name: 'L1' }))).toThrow(Refusal);
    expect(() => forgetRoll(shop, 'loop', 'L1')).toThrow(Refusal);
    expect(readFileSync(file, 'utf8')).toBe('rolls: { loop: { length: much } }\n');
  });
});

describe('a roll that is forgotten', () => {
  it('is gone alone, and its material with the last', () => {
    writeFileSync(file, known);
    forgetRoll(shop, 'loop', 'end');
    expect(rolls()['loop']).toEqual([roll({ name: 'L2', length: 5000 })]);
    expect(rolls()['rubber']).toEqual(roll({ name: 'R9', length: 800 }));
    forgetRoll(shop, 'loop', 'L2');
    forgetRoll(shop, 'rubber', 'R9');
    expect(rolls()).toEqual({});
    expect(readFileSync(file, 'utf8')).toContain('# The rack by the door.');
    rememberRoll(shop, 'loop', roll({ name: 'L5' }));
    expect(rolls()).toEqual({ loop: [roll({ name: 'L5' })] });
  });

  it.each([
    ['loop', 'L9'],
    ['nylon', 'L2'],
    ['constructor', 'Object'],
    ['__proto__', 'x'],
  ])('where there is none, %s %s, takes none with it', (material, name) => {
    writeFileSync(file, known);
    const before = rolls();
    forgetRoll(shop, material, name);
    expect([rolls()['loop']].flat()).toEqual([before['loop']].flat());
    expect([rolls()['rubber']].flat()).toEqual([before['rubber']].flat());
    expect(Object.keys(rolls()).sort()).toEqual(['loop', 'rubber']);
  });
});
