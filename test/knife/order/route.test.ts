import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Round, Visit } from '../../../src/knife/order/route.ts';
import { travelCost, nearestNext, route, smallFirst } from '../../../src/knife/order/route.ts';
import { evenly, point } from '../sample-parts.ts';

const visit: fc.Arbitrary<Visit> = fc
  .tuple(
    evenly(0, 3000),
    evenly(0, 2000),
    evenly(-200, 200),
    evenly(-200, 200),
    fc.integer({ min: 1, max: 5 }),
  )
  .map(([x, y, dx, dy, size]) => ({ entry: point(x, y), exit: point(x + dx, y + dy), size }));

/** With pairs of which the lower index comes first, so that they never form a ring. */
function roundOf(most: number): fc.Arbitrary<Round> {
  return fc
    .tuple(
      fc.array(visit, { minLength: 1, maxLength: most }),
      fc.array(fc.tuple(fc.nat(), fc.nat()), { maxLength: 4 }),
      fc.option(fc.constant(point(3000, 0)), { nil: undefined }),
    )
    .map(([visits, pairs, to]) => ({
      visits,
      from: point(0, 0),
      ...(to === undefined ? {} : { to }),
      before: pairs
        .map(([a, b]) => [a % visits.length, b % visits.length] as const)
        .filter(([a, b]) => a < b),
    }));
}

function isAllowed({ before }: Round, order: readonly number[]): boolean {
  return before.every(([first, then]) => order.indexOf(first) < order.indexOf(then));
}

function permutations(items: readonly number[]): number[][] {
  if (items.length === 0) return [[]];
  return items.flatMap((item, i) =>
    permutations([...items.slice(0, i), ...items.slice(i + 1)]).map((rest) => [item, ...rest]),
  );
}

describe('a route', () => {
  it('goes to each once, in an order that is allowed, and never costs more than the nearest next', () => {
    fc.assert(
      fc.property(roundOf(40), (round) => {
        const order = route(round);
        expect([...order].sort((a, b) => a - b)).toEqual([...round.visits.keys()]);
        expect(isAllowed(round, order)).toBe(true);
        expect(travelCost(round, order)).toBeLessThanOrEqual(
          travelCost(round, nearestNext(round)) + 1e-6,
        );
        expect(route(structuredClone(round))).toEqual(order);
      }),
      { numRuns: 200 },
    );
  });

  // An outside fact: the best of all orders, tried one by one.
  it('of two visits is the best there is, whatever must come first', () => {
    fc.assert(
      fc.property(roundOf(2), (round) => {
        const allowed = permutations([...round.visits.keys()]).filter((one) =>
          isAllowed(round, one),
        );
        const best = Math.min(...allowed.map((one) => travelCost(round, one)));
        expect(travelCost(round, route(round))).toBeCloseTo(best, 6);
      }),
    );
  });

  it('costs its travel, and what a step from large to small costs besides', () => {
    const at = (x: number, size: number): Visit => ({
      entry: point(x, 0),
      exit: point(x, 0),
      size,
    });
    const round = { visits: [at(100, 9), at(300, 4)], from: point(0, 0), before: [] };
    expect(travelCost(round, [0, 1])).toBe(300 + smallFirst);
    expect(travelCost(round, [1, 0])).toBe(500);
    expect(route(round)).toEqual([0, 1]);
    const nearer = { visits: [at(100, 9), at(140, 4)], from: point(0, 0), before: [] };
    expect(travelCost(nearer, [0, 1])).toBe(140 + smallFirst);
    expect(travelCost(nearer, [1, 0])).toBe(180);
    expect(route(nearer)).toEqual([1, 0]);
  });

  it('is refused where each must come before the other', () => {
    const at = (x: number): Visit => ({ entry: point(x, 0), exit: point(x, 0), size: 1 });
    const round: Round = {
      visits: [at(1), at(2)],
      from: point(0, 0),
      before: [
        [0, 1],
        [1, 0],
      ],
    };
    expect(() => route(round)).toThrow(RangeError);
  });
});
