import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Material } from '../src/pattern/material.ts';
import type { Run } from '../src/run.ts';
import { readRun, rollsOf, setFolder } from '../src/run.ts';

let folder = '';

beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'run-'));
});

afterEach(() => {
  rmSync(folder, { recursive: true });
});

function run(text: string, name = 'week.yaml'): Run {
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
    ['more than half a sheet of sets', 'hand: RHD', 'hand: RHD, quantity: 501', '<=500'],
    ['half a set', 'hand: RHD', 'hand: RHD, quantity: 0.5', 'orders.0.quantity'],
    ['a seed below 0', 'title', 'seed: -1\ntitle', '"seed"'],
    ['a roll of no width', 'title', 'rolls: { loop: { width: 0 } }\ntitle', 'rolls.loop.width'],
    ['an unknown word of a roll', 'title', 'rolls: { loop: { size: 1 } }\ntitle', '"size"'],
  ])('refuses %s', (_, from, to, words) => {
    expect(() => run(least.replace(from, to))).toThrow(words);
  });
});

describe('rollsOf', () => {
  const plain = { ...material.roll, defects: [], pins: [] };
  const only = (...args: Parameters<typeof rollsOf>) => rollsOf(...args)[0]!;
  const rolled = (sheet: string): Run => run(`${least}rolls: { loop: ${sheet} }\n`);

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

  it('is no other material’s', () => {
    expect(only(rolled('{ width: 1 }'), { ...material, name: 'felt' })).toEqual(plain);
  });
});

describe('setFolder', () => {
  it('lies beside the run file', () => {
    expect(setFolder(run(least), 'wren')).toBe(join(folder, 'wren'));
  });
});
