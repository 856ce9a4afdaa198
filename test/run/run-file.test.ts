import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Material } from '../../src/pattern/shop/material.ts';
import type { RunFile } from '../../src/run/run-file.ts';
import { readRun, rollsOf, setFolder } from '../../src/run/run-file.ts';

let folder = '';

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'run-'));
});

afterEach(() => {
  rmSync(folder, { recursive: true });
});

function run(text: string, name = 'week.yaml'): RunFile {
  const file = join(folder, name);
  writeFileSync(file, text);
  return readRun(file);
}

const least = `title: a week
cutter: long-bay
orders:
  - { order: "1", set: wren, hand: RHD }
`;

const material: Material = {
  name: 'loop',
  title: 'loop',
  kind: 'carpet',
  thickness: 8,
  turns: 'one-way',
  gap: 6,
  roll: { width: 2030, selvedge: 25, startMargin: 20, length: 12_000 },
  allowances: { bound: 0, seam: 10, tuck: 30, turned: 25, raw: 0 },
  bridge: 0,
  punch: 0,
  notchDepth: 5,
  mitreLimit: 2,
};

describe('readRun', () => {
  it('fills in what need not be said', () => {
    expect(run(least)).toMatchObject({
      name: 'week',
      seed: 1,
      rolls: {},
      orders: [{ quantity: 1, heelPads: 'driver', boards: true, underlay: true }],
    });
  });

  it.each(['week.yaml', 'week.yml'])('is named for its file, %s', (name) => {
    expect(run(least, name).name).toBe('week');
  });

  it('takes yes and no of an option as the table of orders does', () => {
    const options = 'options: { lock: yes, late: No, drain: true, size: long }';
    const { orders } = run(least.replace('RHD', `RHD, ${options}`));
    expect(orders[0]!.options).toEqual({ lock: true, late: false, drain: true, size: 'long' });
  });

  it('lets orders share a set, and no two a name', () => {
    const more = `${least}  - { order: "2", set: wren, hand: LHD }\n`;
    expect(run(more).orders.map(({ order }) => order)).toEqual(['1', '2']);
    expect(() => run(more.replace('"2"', '"1"'))).toThrow(
      /week\.yaml:5:7: order "1" is there twice/,
    );
  });

  it.each([
    ['a name with a blank', 'order: "1"', 'order: "1 a"', 'letters and digits'],
    [
      'a name with a dot, which labels keep apart',
      'order: "1"',
      'order: "1.2"',
      'letters and digits',
    ],
    ['no orders', /orders:[^]*/, 'orders: []\n', '"orders"'],
    [
      'more than half a sheet of sets',
      'hand: RHD',
      'hand: RHD, quantity: 501',
      'at most 500 is allowed',
    ],
    ['half a set', 'hand: RHD', 'hand: RHD, quantity: 0.5', 'orders.0.quantity'],
    ['a seed below 0', 'title', 'seed: -1\ntitle', '"seed"'],
    ['a roll of no width', 'title', 'rolls: { loop: { width: 0 } }\ntitle', 'rolls.loop.width'],
    ['an unknown word of a roll', 'title', 'rolls: { loop: { size: 1 } }\ntitle', '"size"'],
    ['no rolls at all', 'title', 'rolls: { loop: [] }\ntitle', '"rolls.loop"'],
    [
      'a name that no file may have',
      'title',
      'rolls: { loop: { name: a/b } }\ntitle',
      '"rolls.loop.name" does not fit: letters and digits',
    ],
    [
      'a defect of two corners',
      'title',
      'rolls: { loop: { defects: [[[0, 0], [1, 1]]] } }\ntitle',
      '"rolls.loop.defects.0" does not fit',
    ],
    [
      'a defect without area',
      'title',
      'rolls: { loop: { defects: [[[0, 0], [1, 1], [2, 2]]] } }\ntitle',
      '"rolls.loop.defects.0" does not fit: a polygon has an area',
    ],
    [
      'a remnant of two corners',
      'title',
      'rolls: { loop: { outline: [[0, 0], [1, 1]] } }\ntitle',
      '"rolls.loop.outline" does not fit',
    ],
    [
      'a remnant without area',
      'title',
      'rolls: { loop: { outline: [[0, 0], [9, 0], [4, 0]] } }\ntitle',
      '"rolls.loop.outline" does not fit: a polygon has an area',
    ],
    [
      'a remnant whose sides cross',
      'title',
      'rolls: { loop: { outline: [[0, 0], [100, 100], [100, 0], [0, 90]] } }\ntitle',
      '"rolls.loop.outline" does not fit: the sides of a polygon do not cross',
    ],
    [
      'a pin turned by more than a round',
      'title',
      'rolls: { loop: { pins: [{ part: a, at: [1, 2], rotation: 400 }] } }\ntitle',
      '"rolls.loop.pins.0.rotation" is too large: at most 360 is allowed',
    ],
    [
      'an unknown word of a pin',
      'title',
      'rolls: { loop: { pins: [{ part: a, at: [1, 2], turn: 90 }] } }\ntitle',
      '"turn" is not a key of "rolls.loop.pins.0"',
    ],
  ])('refuses %s', (_, from, to, words) => {
    expect(() => run(least.replace(from, to))).toThrow(words);
  });
});

describe('several rolls', () => {
  it.each<[string, string, RegExp]>([
    [
      'an unknown word, with its line',
      '{ size: 1 }',
      /week\.yaml:8:9: "size" is not a key of "rolls\.loop\.1"/,
    ],
    ['a roll of no width', '{ width: 0 }', /week\.yaml:8:9: "rolls\.loop\.1\.width"/],
    [
      'a pin turned by more than a round',
      '{ pins: [{ part: a, at: [1, 2], rotation: 400 }] }',
      /week\.yaml:8:39: "rolls\.loop\.1\.pins\.0\.rotation"/,
    ],
    ['two of one name', '{ name: a }', /week\.yaml:8:7: two rolls of loop are called "a"/],
  ])('refuse %s', (_, sheet, words) => {
    const text = `${least}rolls:\n  loop:\n    - { name: a }\n    - ${sheet}\n`;
    expect(() => run(text)).toThrow(words);
  });

  it('refuse a name that is the number of another', () => {
    expect(() => run(`${least}rolls: { loop: [{ name: "2" }, {}] }\n`)).toThrow(
      'two rolls of loop are called "2"',
    );
  });

  it('may be called alike where they are of two materials', () => {
    const text = `${least}rolls: { loop: [{ name: a }, {}], felt: [{ name: a }] }\n`;
    expect(() => run(text)).not.toThrow();
  });
});

describe('rollsOf', () => {
  const plain = { ...material.roll, defects: [], pins: [], laid: [] };
  const rollsOfIt = (file: RunFile, own: Material) => rollsOf(file, { material: own });
  const only = (...args: Parameters<typeof rollsOfIt>) => rollsOfIt(...args)[0]!;
  const rolled = (sheet: string): RunFile => run(`${least}rolls: { loop: ${sheet} }\n`);

  it('is the material’s where the run says nothing', () => {
    expect(only(run(least), material)).toEqual(plain);
    const { length: _, ...endless } = material.roll;
    expect(only(run(least), { ...material, roll: endless }).length).toBe(Infinity);
  });

  it.each([
    ['width', 1990],
    ['selvedge', 0],
    ['startMargin', 0],
    ['length', 7500],
  ] as const)('has the %s that the run says, and the rest of the material’s', (key, value) => {
    expect(only(rolled(`{ ${key}: ${value} }`), material)).toEqual({
      ...plain,
      [key]: value,
    });
  });

  it('has a name and a dye lot where the run gives them', () => {
    expect(only(rolled('{ name: B2, dyeLot: "7" }'), material)).toEqual({
      ...plain,
      name: 'B2',
      dyeLot: '7',
    });
  });

  it('are several in the order of the run file, called by their number where it gives no name', () => {
    const several = rolled('[{ length: 900 }, { name: rest, dyeLot: x }, { width: 1990 }]');
    expect(rollsOfIt(several, material)).toEqual([
      { ...plain, length: 900, name: '1' },
      { ...plain, name: 'rest', dyeLot: 'x' },
      { ...plain, width: 1990, name: '3' },
    ]);
  });

  it('has defects and pins as points of the roll', () => {
    const sheet =
      '{ defects: [[[1, 2], [30, 2], [3, 40]]], pins: [{ part: mat.1.A, at: [50, 60] }, { part: b, at: [-1, 0], rotation: 270 }] }';
    expect(only(rolled(sheet), material)).toEqual({
      ...plain,
      defects: [
        [
          { x: 1, y: 2 },
          { x: 30, y: 2 },
          { x: 3, y: 40 },
        ],
      ],
      pins: [
        { part: 'mat.1.A', at: [50, 60], rotation: 0 },
        { part: 'b', at: [-1, 0], rotation: 270 },
      ],
    });
  });

  it.each([
    ['{ outline: [[0, 0], [3000, 0], [3000, 2900]] }', /0 to 2900 mm across.*2030 mm wide/],
    ['{ width: 1500, outline: [[0, 0], [900, 0], [900, 2030]] }', /1500 mm wide/],
    ['{ outline: [[-40, 0], [900, 0], [900, 700]] }', /begins at -40 mm/],
    ['{ defects: [[[800, 2100], [900, 2100], [900, 2300]]] }', /2100 to 2300 mm across/],
    ['{ length: 700, defects: [[[800, 10], [900, 10], [900, 30]]] }', /700 mm long/],
  ])('are refused where %s is not on the roll', (sheet, message) => {
    const loaded = rolled(sheet);
    expect(() => rollsOfIt(loaded, material)).toThrow(message);
    expect(() => rollsOfIt(loaded, material)).toThrow(/how far along the roll/);
  });

  it('may have a defect that reaches over an edge, and a remnant as wide as a tape can tell', () => {
    const sheet =
      '{ defects: [[[800, 2000], [900, 2000], [900, 2300]]], outline: [[0, 0], [900, 0], [900, 2031]] }';
    expect(() => rollsOfIt(rolled(sheet), material)).not.toThrow();
  });

  it('of a remnant ends where its outline does, or sooner where it says so', () => {
    const outline = '[[0, 0], [3000, 0], [3500, 2030], [0, 2030]]';
    const remnant = only(rolled(`{ outline: ${outline} }`), material);
    expect(remnant).toMatchObject({ length: 3500 });
    expect(remnant.outline).toHaveLength(4);
    expect(only(rolled(`{ outline: ${outline}, length: 3100 }`), material).length).toBe(3100);
    const { length: _, ...endless } = material.roll;
    const ofEndless = only(rolled(`{ outline: ${outline} }`), { ...material, roll: endless });
    expect(ofEndless.length).toBe(3500);
  });

  it('has what a search has laid beside what is pinned', () => {
    const sheet = '{ pins: [{ part: b, at: [5, 6] }], laid: [{ part: mat.1.A, at: [50, 60] }] }';
    expect(only(rolled(sheet), material)).toEqual({
      ...plain,
      pins: [{ part: 'b', at: [5, 6], rotation: 0 }],
      laid: [{ part: 'mat.1.A', at: [50, 60], rotation: 0 }],
    });
  });

  it('is no other material’s', () => {
    expect(only(rolled('{ width: 1 }'), { ...material, name: 'felt' })).toEqual(plain);
  });
});

describe('setFolder', () => {
  it('lies beside the run file', () => {
    expect(setFolder(run(least), 'wren')).toBe(join(folder, 'wren'));
  });
});
