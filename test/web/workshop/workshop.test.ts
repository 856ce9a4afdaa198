import { mkdirSync, mkdtempSync, realpathSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Refusal } from '../../../src/base/findings.ts';
import { placeIn, runFileIn, runFolderIn, workshopIn } from '../../../src/web/workshop/workshop.ts';

let root = '';
let folder = '';

beforeAll(() => {
  root = realpathSync(mkdtempSync(join(tmpdir(), 'shop-')));
  folder = join(root, 'patterns');
  mkdirSync(join(folder, 'wren'), { recursive: true });
  mkdirSync(join(root, 'patterns-of-others'));
  mkdirSync(join(root, 'outside'));
  writeFileSync(join(root, 'outside/secret.yaml'), 'secret');
  writeFileSync(join(root, 'patterns-of-others/secret.yaml'), 'secret');
  writeFileSync(join(folder, 'wren/set.yaml'), 'own');
  symlinkSync(join(root, 'outside'), join(folder, 'folder-link'));
  symlinkSync(join(root, 'outside/secret.yaml'), join(folder, 'file-link.yaml'));
  symlinkSync('../patterns-of-others/secret.yaml', join(folder, 'near-link.yaml'));
  symlinkSync('..', join(folder, 'up-link'));
  symlinkSync('.', join(folder, 'self-link'));
  symlinkSync('wren', join(folder, 'wren-link'));
  symlinkSync(folder, join(root, 'linked-patterns'));
});

afterAll(() => rmSync(root, { recursive: true }));

function ruleOf(work: () => unknown): string {
  try {
    work();
  } catch (error) {
    if (error instanceof Refusal) return error.findings[0]!.rule;
    throw error;
  }
  return 'taken';
}

const noNames = [
  '',
  '.',
  '..',
  '../outside',
  '..\\outside',
  'wren/../../outside',
  'a..b',
  '/etc/passwd',
  'wren/set.yaml',
  'wren\\set.yaml',
  'wren\0',
  '\0',
  'wren\0.yaml',
  'C:',
  'C:\\a',
  '~',
  '-rf',
  '.hidden',
  'wren.',
  'wren\n',
  '\nwren',
  'a b',
  'wren%2e%2e',
  '％2e',
  'wrén',
  'a\u202eb',
  'a:b',
  '__proto__',
  'a'.repeat(101),
];

describe('names', () => {
  it.each(noNames)('%j is refused in every place of a name', (name) => {
    const shop = { patterns: folder, shared: folder, out: folder };
    expect(ruleOf(() => placeIn(folder, name))).toBe('name');
    expect(ruleOf(() => placeIn(folder, 'wren', name))).toBe('name');
    expect(ruleOf(() => placeIn(folder, name, 'set.yaml'))).toBe('name');
    expect(ruleOf(() => runFolderIn(shop, name))).toBe('name');
  });

  // The file has an ending of its own: what ends in a point or in nothing is none either.
  it.each(noNames.filter((name) => !['', '.hidden'].includes(name)))(
    '%j is no run file either',
    (name) => {
      const shop = { patterns: folder, shared: folder, out: folder };
      const expected = name === 'wren.' ? /name|taken/ : /^name$/;
      expect(ruleOf(() => runFileIn(shop, name))).toMatch(expected);
    },
  );

  it.each(['wren', 'wren-week', 'W1', '7', 'set.yaml', 'loop.bite-01.nc', 'a_b', 'a'.repeat(100)])(
    '%s is taken, there or not',
    (name) => {
      expect(placeIn(folder, name)).toBe(join(folder, name));
    },
  );

  it('whatever they are, what is taken lies straight in the folder', () => {
    const name = fc.oneof(
      fc.string({ unit: fc.constantFrom('.', '/', '\\', 'a', '-', '\0', '%', '\n', '~', '_') }),
      fc.string({ unit: 'binary', maxLength: 8 }),
    );
    let taken = 0;
    fc.assert(
      fc.property(name, (one) => {
        const rule = ruleOf(() => placeIn(join(root, 'nowhere'), one));
        if (rule !== 'taken') return;
        taken++;
        expect(one).not.toMatch(/[/\\\0\n~%]|\.\./);
        expect(placeIn(join(root, 'nowhere'), one)).toBe(`${root}/nowhere/${one}`);
      }),
      { numRuns: 2000 },
    );
    expect(taken).toBeGreaterThan(0);
  });
});

describe('links', () => {
  it.each(['folder-link', 'file-link.yaml', 'near-link.yaml', 'up-link', 'self-link'])(
    '%s leads out of its folder and is refused',
    (name) => {
      expect(ruleOf(() => placeIn(folder, name))).toBe('name');
    },
  );

  it('to what lies behind them too', () => {
    expect(ruleOf(() => placeIn(folder, 'folder-link', 'secret.yaml'))).toBe('name');
    const shop = { patterns: folder, shared: folder, out: folder };
    expect(ruleOf(() => runFileIn(shop, 'file-link'))).toBe('name');
  });

  it('within the folder, and to the whole workshop, are followed', () => {
    expect(placeIn(folder, 'wren-link', 'set.yaml')).toBe(join(folder, 'wren-link/set.yaml'));
    const linked = join(root, 'linked-patterns');
    expect(placeIn(linked, 'wren', 'set.yaml')).toBe(join(linked, 'wren/set.yaml'));
  });
});

describe('a workshop', () => {
  it('is a folder with patterns; without them it is refused in words', () => {
    expect(workshopIn(root)).toEqual({
      patterns: folder,
      shared: join(root, 'shared'),
      out: join(root, 'out'),
    });
    expect(() => workshopIn(join(root, 'outside'))).toThrow(/no folder "patterns" here/);
  });
});
