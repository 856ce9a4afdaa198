import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { circle, polyline, reversePath } from '../../../src/geometry/paths/path.ts';
import { transformPath } from '../../../src/geometry/paths/transform.ts';
import { turnsOf } from '../../../src/geometry/paths/turns.ts';
import { isometry, outline } from '../arbitrary.ts';

/** A circle drawn in straight pieces. */
function polygon(radius: number, corners: number) {
  const points = Array.from({ length: corners }, (_, i) => {
    const turn = (2 * Math.PI * i) / corners;
    return { x: radius * Math.cos(turn), y: radius * Math.sin(turn) };
  });
  return polyline(points, true);
}

describe('turnsOf', () => {
  it('comes to one full turn round a simple outline, however it lies', () => {
    fc.assert(
      fc.property(outline, isometry, (path, moved) => {
        const turns = turnsOf(transformPath(moved, path));
        const sum = turns.reduce((total, { turn }) => total + turn, 0);
        expect(sum).toBeCloseTo(2 * Math.PI, 6);
      }),
    );
  });

  it('turns the other way when the path is run backwards', () => {
    fc.assert(
      fc.property(outline, (path) => {
        const sum = turnsOf(reversePath(path)).reduce((total, { turn }) => total + turn, 0);
        expect(sum).toBeCloseTo(-2 * Math.PI, 6);
      }),
    );
  });

  it('knows an arc’s radius and length, and the middle of it', () => {
    const [first, second, ...more] = turnsOf(circle({ x: 10, y: 20 }, 30));
    expect(more).toEqual([]);
    expect(first).toMatchObject({ radius: 30, turn: Math.PI });
    expect(first!.length).toBeCloseTo(30 * Math.PI, 9);
    expect(first!.at.y).toBeCloseTo(50, 9);
    expect(second!.at.y).toBeCloseTo(-10, 9);
  });

  it('takes a curve in straight pieces for the curve, and a corner of 15 degrees for sharp', () => {
    const turns = turnsOf(polygon(100, 72));
    const length = turns.reduce((sum, turn) => sum + turn.length, 0);
    // [D] 72 chords of a circle are shorter than it by (pi / 72)^2 / 6, a third of a thousandth.
    expect(length / (200 * Math.PI)).toBeCloseTo(1 - (Math.PI / 72) ** 2 / 6, 6);
    for (const { radius } of turns) expect(radius).toBeCloseTo(100 * (length / (200 * Math.PI)), 6);
    const soft = turnsOf(polygon(100, 25)).map(({ radius }) => radius > 0);
    expect(new Set(soft)).toEqual(new Set([true]));
    const sharp = turnsOf(polygon(100, 23)).map(({ radius }) => radius);
    expect(new Set(sharp)).toEqual(new Set([0]));
  });

  it('an open path has no corner at its ends', () => {
    const path = polyline(
      [
        { x: 0, y: 0 },
        { x: 10, y: 0 },
        { x: 10, y: 10 },
      ],
      false,
    );
    expect(turnsOf(path)).toEqual([
      { at: { x: 10, y: 0, bulge: 0 }, turn: Math.PI / 2, radius: 0, length: 0 },
    ]);
  });
});
