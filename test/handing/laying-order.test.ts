import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { benchFacts } from '../../src/handing/bench-facts.ts';
import { deriveParts } from '../../src/handing/derive.ts';
import type { Laying } from '../../src/handing/laying-order.ts';
import { afterNeeds, layingOrder } from '../../src/handing/laying-order.ts';
import type { Piece } from '../../src/pattern/piece.ts';
import type { SetContent } from '../../src/pattern/set-file.ts';
import { feature, line, materials, oblong, order, patternSet, piece } from './fixtures.ts';

function layingOf(pieces: readonly Piece[], more: Partial<SetContent> = {}): Laying {
  const set = patternSet('RHD', pieces, more);
  const { parts } = deriveParts(set, order('RHD'), materials);
  const bench = new Map(benchFacts(parts, set, materials).map((facts) => [facts.part, facts]));
  return layingOrder(parts, bench, set);
}

function namesIn({ things }: Laying): string[][] {
  return things.map((thing) => thing.map(({ name }) => name));
}

/** Names that no other begins with. */
const names = ['ask', 'bay', 'cot', 'dim', 'elk', 'fen', 'gun', 'hub'];

/** What lies at a place of its own, 500 mm square. */
function alone(i: number, entry: Parameters<typeof piece>[1] = {}): Piece {
  return piece(names[i]!, entry, oblong(600 * i, 0, 600 * i + 500, 500));
}

describe('layingOrder', () => {
  it('keeps to what random sets say of tucked and covered edges and of mats', () => {
    const relation = fc.record({
      kind: fc.constantFrom('none', 'tucked', 'covered'),
      isLast: fc.boolean(),
    });
    const sets = fc.record({
      // The way in which the set could be laid: what lies under comes first.
      truth: fc.shuffledSubarray([...names.keys()], { minLength: names.length }),
      relations: fc.array(relation, { minLength: names.length, maxLength: names.length }),
      mats: fc.subarray([...names.keys()]),
    });
    fc.assert(
      fc.property(sets, ({ truth, relations, mats }) => {
        const said: [lower: string, upper: string][] = [];
        const pieces = names.map((name, i) => {
          const at = truth.indexOf(i);
          const { kind, isLast } = relations[i]!;
          const later = truth.slice(at + 1);
          const upper = isLast ? later.at(-1) : later[0];
          if (kind === 'none' || upper === undefined) return alone(i);
          said.push([name, names[upper]!]);
          const words = `the door seal and the ${names[upper]!}`;
          return alone(
            i,
            kind === 'tucked' ? { edge: 'tuck', tucked: words } : { edge: 'raw', covered: words },
          );
        });
        const onTop = mats.map((i) => {
          const mat = `${names[i]!}mat`;
          said.push([names[i]!, mat]);
          return piece(mat, {}, oblong(600 * i + 100, 100, 600 * i + 300, 300));
        });
        const laying = layingOf([...onTop, ...pieces]);
        const laid = namesIn(laying).flat();
        expect(laying.circle).toEqual([]);
        expect(laid.toSorted()).toEqual([...onTop, ...pieces].map(({ name }) => name).toSorted());
        for (const [lower, upper] of said) {
          expect(laid.indexOf(lower)).toBeLessThan(laid.indexOf(upper));
        }
      }),
      { numRuns: 60 },
    );
  });

  it('lays underlays first, then floors, then the rest as the set file has it', () => {
    const wall = alone(0);
    const floor = alone(1, { underlay: { material: 'board', inset: 10 } });
    const lid = alone(2, { board: { material: 'board', inset: 0 } });
    expect(namesIn(layingOf([wall, floor, lid]))).toEqual([
      ['bay-underlay'],
      ['bay'],
      ['ask'],
      ['cot', 'cot-board'],
    ]);
  });

  it('lays what is sewn together at once, and what it goes under after it', () => {
    const joined = line(0, 500, 400, 500);
    const floor = piece('floor', {}, oblong(0, 0, 400, 500), [feature('SEAM', joined)]);
    const toe = piece('toe', { edge: 'tuck', tucked: 'the lip' }, oblong(0, 500, 400, 700), [
      feature('SEAM', joined),
    ]);
    const lip = piece('lip', {}, oblong(0, 800, 400, 900));
    const seams = [{ join: ['floor', 'toe'] as [string, string] }];
    expect(namesIn(layingOf([lip, floor, toe], { seams }))).toEqual([['floor', 'toe'], ['lip']]);
  });

  it('goes by the words of the set file where the drawing looks otherwise', () => {
    const mat = piece('mat', { edge: 'tuck', tucked: 'the floor' }, oblong(100, 100, 200, 200));
    const floor = piece('floor', {}, oblong(0, 0, 400, 500));
    expect(namesIn(layingOf([floor, mat]))).toEqual([['mat'], ['floor']]);
  });

  it('does not take a strip between two floors for a mat on them', () => {
    const [left, strip, right] = [
      piece('left', {}, oblong(-500, 0, -20, 500)),
      piece('strip', {}, oblong(-20, 100, 20, 300)),
      piece('right', {}, oblong(20, 0, 500, 500)),
    ];
    expect(layingOf([left, strip, right]).links).toEqual([]);
  });

  it('tells a circle through what is sewn together, and still lays everything once', () => {
    const joined = line(0, 500, 400, 500);
    const floor = piece('floor', {}, oblong(0, 0, 400, 500), [feature('SEAM', joined)]);
    const toe = piece('toe', { edge: 'tuck', tucked: 'the lip' }, oblong(0, 500, 400, 700), [
      feature('SEAM', joined),
    ]);
    const lip = piece('lip', { edge: 'tuck', tucked: 'the floor' }, oblong(0, 800, 400, 900));
    const more = { seams: [{ join: ['floor', 'toe'] as [string, string] }] };
    const laying = layingOf([floor, toe, lip], more);
    expect(laying.circle).toHaveLength(2);
    expect(namesIn(laying).flat().toSorted()).toEqual(['floor', 'lip', 'toe']);
    const { findings } = deriveParts(
      patternSet('RHD', [floor, toe, lip], more),
      order('RHD'),
      materials,
    );
    const circle = findings.find(({ rule }) => rule === 'laying-circle');
    expect(circle!.message).toContain('toe goes under lip');
    expect(circle!.message).toContain('lip goes under floor');
  });
});

describe('afterNeeds', () => {
  it('keeps what is wanted where nothing is needed', () => {
    expect(afterNeeds([2, 0, 1], [[], [], []]).order).toEqual([2, 0, 1]);
  });

  it('puts all that an item needs before it, once', () => {
    expect(afterNeeds([0, 1, 2, 3], [[3], [0, 3], [1], []]).order).toEqual([3, 0, 1, 2]);
  });

  it('tells the circle, each item with what it needs', () => {
    const { order: all, circle } = afterNeeds([0, 1, 2, 3], [[1], [2], [0], []]);
    expect(circle).toEqual([
      { item: 0, needs: 1 },
      { item: 1, needs: 2 },
      { item: 2, needs: 0 },
    ]);
    expect(all.toSorted()).toEqual([0, 1, 2, 3]);
  });
});
