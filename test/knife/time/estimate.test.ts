import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { estimate } from '../../../src/knife/time/estimate.ts';
import type { Move } from '../../../src/knife/moves.ts';
import {
  conveyorBed,
  knifeOver,
  laidInARow,
  longBay,
  point,
  smallTable,
  somePartsArbitrary,
} from '../sample-parts.ts';

describe('the estimate', () => {
  // By hand: long-bay goes 300 mm/s at the cut, 750 with the knife up, 50 down, at 2500 mm/s2.
  it('is of travels, turns, strokes and feeds from rest to rest', () => {
    const moves: Move[] = [
      { kind: 'travel', to: point(3000, 4000) },
      { kind: 'turn', deg: 90 },
      { kind: 'lower', z: -0.5 },
      { kind: 'line', to: point(3000, 4900), deg: 90 },
      { kind: 'lift' },
      { kind: 'feed', length: 4500 },
    ];
    const { travelLength, minutes } = estimate(moves, longBay);
    expect(travelLength).toBe(5000);
    const seconds = [
      5000 / 750 + 750 / 2500,
      // 360 degrees/s at 7200 degrees/s2.
      90 / 360 + 360 / 7200,
      // M3 and its dwell, then 18.5 mm down.
      0.5,
      18.5 / 50 + 50 / 2500,
      900 / 300 + 300 / 2500,
      // 18.5 mm up is too short to come to 750 mm/s.
      2 * Math.sqrt(18.5 / 2500),
      4500 / 750 + 750 / 2500,
    ];
    expect(minutes * 60).toBeCloseTo(
      seconds.reduce((a, b) => a + b),
      9,
    );
  });

  it('says when each thing that is announced begins: after all that comes before', () => {
    fc.assert(
      fc.property(somePartsArbitrary, fc.constantFrom(longBay, smallTable), (parts, cutter) => {
        const { moves, begun, minutes } = knifeOver(laidInARow(parts, cutter), parts, cutter);
        const notes = moves.flatMap((move, i) => (move.kind === 'note' ? [{ move, i }] : []));
        expect(begun.map(({ text }) => text)).toEqual(notes.map(({ move }) => move.text));
        for (const [k, { i }] of notes.entries()) {
          expect(begun[k]!.minutes).toBeCloseTo(estimate(moves.slice(0, i), cutter).minutes, 9);
        }
        expect(begun.at(-1)!.minutes).toBeLessThan(minutes);
      }),
      { numRuns: 20 },
    );
  });

  it('slows arcs to what the drive can hold: sqrt of acceleration and radius', () => {
    const half = (radius: number): Move[] => [
      { kind: 'travel', to: point(0, 0) },
      { kind: 'arc', to: point(0, 2 * radius), centre: point(0, radius), sweepDeg: 180, deg: null },
    ];
    // R 10 at 1000 mm/s2: 100 mm/s instead of 150. Up in 0.1 s over 5 mm, and down.
    const length = 10 * Math.PI;
    const seconds = length / 100 + 100 / 1000;
    expect(estimate(half(10), smallTable).minutes * 60).toBeCloseTo(seconds, 9);
    const wide = (100 * Math.PI) / 150 + 150 / 1000;
    expect(estimate(half(100), smallTable).minutes * 60).toBeCloseTo(wide, 9);
  });

  it('slows a stroke to what the knife’s axis can turn', () => {
    // 180 degrees at 500 degrees/s take 0.36 s, on a way of 31.4 mm.
    const moves: Move[] = [
      { kind: 'arc', to: point(0, 20), centre: point(0, 10), sweepDeg: 180, deg: 180 },
    ];
    const speed = (10 * Math.PI) / 0.36;
    expect(estimate(moves, conveyorBed).minutes * 60).toBeCloseTo(0.36 + speed / 4000, 9);
  });

  it('counts each punch, and each time that the knife is switched on', () => {
    const one = (moves: Move[]): number => estimate(moves, conveyorBed).minutes * 60;
    const down: Move[] = [{ kind: 'lower', z: 1 }, { kind: 'lift' }];
    const up = one(down) - 0.3;
    expect(one([...down, ...down])).toBeCloseTo(0.3 + 2 * up, 9);
    expect(one([...down, { kind: 'punch' }, ...down])).toBeCloseTo(3 * 0.3 + 2 * up, 9);
  });

  it('says when each move ends: by hand, of a line, a corner and what is gone from rest to rest', () => {
    const moves: Move[] = [
      { kind: 'travel', to: point(1500, 0) },
      { kind: 'note', text: 'here' },
      { kind: 'lower', z: -0.5 },
      { kind: 'line', to: point(2400, 0), deg: 0 },
      { kind: 'lift' },
      { kind: 'turn', deg: 90 },
      { kind: 'travel', to: point(1500, 0) },
    ];
    const took = [
      1500 / 750 + 750 / 2500,
      0,
      0.5 + 18.5 / 50 + 50 / 2500,
      900 / 300 + 300 / 2500,
      2 * Math.sqrt(18.5 / 2500),
      90 / 360 + 360 / 7200,
      900 / 750 + 750 / 2500,
    ];
    const { ends } = estimate(moves, longBay);
    expect(ends).toHaveLength(moves.length);
    let at = 0;
    for (const [i, seconds] of took.entries()) {
      at += seconds;
      expect(ends[i]).toBeCloseTo(at, 9);
    }
  });

  it('says when each stroke of a chain ends, which is gone without a stop', () => {
    // Straight on: up to 150 mm/s in 0.15 s over 11.25 mm, and as long down at the end.
    const moves: Move[] = [
      { kind: 'travel', to: point(0, 0) },
      { kind: 'line', to: point(30, 0), deg: null },
      { kind: 'line', to: point(60, 0), deg: null },
      { kind: 'line', to: point(90, 0), deg: null },
      { kind: 'lift' },
    ];
    const { ends } = estimate(moves, smallTable);
    const first = 0.15 + (30 - 11.25) / 150;
    expect(Array.from(ends.slice(0, 4), (end) => Number(end.toFixed(9)))).toEqual(
      [0, first, first + 0.2, 2 * first + 0.2].map((end) => Number(end.toFixed(9))),
    );
    // Alone each would be gone from rest to rest.
    expect(estimate(moves.slice(0, 2), smallTable).ends[1]).toBeCloseTo(30 / 150 + 0.15, 9);
  });

  it('has ends that never go back, the last of them that of the whole', () => {
    fc.assert(
      fc.property(
        somePartsArbitrary,
        fc.constantFrom(longBay, smallTable, conveyorBed),
        (parts, cutter) => {
          const { moves } = knifeOver(laidInARow(parts, cutter), parts, cutter);
          const { ends, minutes } = estimate(moves, cutter);
          expect(ends).toHaveLength(moves.length);
          const back = [...ends].findIndex((end, i) => !(end >= (ends[i - 1] ?? 0)));
          expect(back).toBe(-1);
          expect(ends.at(-1)).toBeCloseTo(minutes * 60, 9);
        },
      ),
      { numRuns: 20 },
    );
    expect(estimate([], longBay)).toMatchObject({ minutes: 0, ends: new Float64Array(0) });
  });
});
