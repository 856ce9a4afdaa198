import { expect, it } from 'vitest';
import { assemblies } from '../../src/handing/assemblies.ts';
import { benchFacts } from '../../src/handing/bench-facts.ts';
import { deriveParts } from '../../src/handing/derive.ts';
import { feature, line, materials, oblong, order, patternSet, piece } from './fixtures.ts';

const joined = line(0, 300, 400, 300);
const seams = [feature('SEAM', joined)];
const pieces = [
  piece('floor', { pad: 'rubber' }, oblong(0, 0, 400, 300), [
    ...seams,
    feature('PAD', oblong(100, 100, 200, 200)),
  ]),
  piece('toe', { board: { material: 'board', inset: 0 } }, oblong(0, 300, 400, 500), seams),
  piece('lid', { underlay: { material: 'board', inset: 0 } }, oblong(0, 600, 400, 700)),
];

function thingsOf(said: Record<string, string>, left: readonly string[] = []): string[][] {
  const set = patternSet('RHD', pieces, { seams: [{ join: ['floor', 'toe'] }] });
  const shop = new Map(
    [...materials].map(([name, one]) => [
      name,
      said[name] === undefined ? one : { ...one, fixed: said[name] },
    ]),
  );
  const { parts: all } = deriveParts(set, order('RHD'), shop);
  const bench = new Map(benchFacts(all, set, shop).map((facts) => [facts.part, facts]));
  const parts = all.filter(({ name }) => !left.includes(name));
  return assemblies(parts, bench).map((thing) => thing.map(({ name }) => name));
}

it('sewn carpets with their pads and boards are one thing, an underlay is one by itself', () => {
  expect(thingsOf({})).toEqual([
    ['floor', 'floor-pad-right', 'toe', 'toe-board'],
    ['lid'],
    ['lid-underlay'],
  ]);
});

it('what is loose is a thing by itself, and a fixed underlay is none', () => {
  expect(thingsOf({ board: 'loose', rubber: 'loose' })).toEqual([
    ['floor', 'toe'],
    ['floor-pad-right'],
    ['toe-board'],
    ['lid'],
    ['lid-underlay'],
  ]);
  expect(thingsOf({ board: 'glued' }).slice(1)).toEqual([['lid', 'lid-underlay']]);
});

it('what the order does not want joins nothing', () => {
  expect(thingsOf({}, ['toe']).map((thing) => thing[0])).toEqual([
    'floor',
    'toe-board',
    'lid',
    'lid-underlay',
  ]);
});
