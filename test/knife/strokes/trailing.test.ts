import { describe, expect, it } from 'vitest';
import type { Point } from '../../../src/geometry/paths/point.ts';
import { distance } from '../../../src/geometry/paths/point.ts';
import { polyline } from '../../../src/geometry/paths/path.ts';
import type { TrailingKnife } from '../../../src/knife/cutter.ts';
import type { Move } from '../../../src/knife/moves.ts';
import { cutTrailing } from '../../../src/knife/strokes/trailing.ts';
import { point } from '../sample-parts.ts';

const knife: TrailingKnife = { kind: 'trailing', offset: 6, swivelAboveDeg: 25, swivelDepth: 1.5 };
const cutZ = -0.3;
const ahead = { at: point(-20, 0), deg: 0 };

type Arc = Extract<Move, { kind: 'arc' }>;

function arcsOf(moves: readonly Move[]): Arc[] {
  return moves.filter((move): move is Arc => move.kind === 'arc');
}

function arcLength({ to, centre, sweepDeg }: Arc): number {
  return (distance(to, centre) * Math.abs(sweepDeg) * Math.PI) / 180;
}

/** Along x to (100, 0), then on under an angle to the left. */
function bend(deg: number): Point[] {
  const turn = (deg * Math.PI) / 180;
  return [point(0, 0), point(100, 0), point(100 + 50 * Math.cos(turn), 50 * Math.sin(turn))];
}

describe('a corner', () => {
  // facts 2 [D]: the axis goes round the tip by d |phi|.
  it.each([
    [90, 9.4248],
    [45, 4.7124],
    [-90, 9.4248],
  ])('of %d degrees takes the axis %d mm round the tip', (deg, length) => {
    const [arc] = arcsOf(cutTrailing(polyline(bend(deg), false), ahead, knife, cutZ).moves);
    expect(arcLength(arc!)).toBeCloseTo(length, 4);
    expect(arc!.centre).toMatchObject(point(100, 0));
    expect(arc!.sweepDeg).toBeCloseTo(deg, 9);
  });

  it('that is sharp is swivelled with the tip raised, a lesser one at full depth', () => {
    const kinds = (deg: number): unknown[] =>
      cutTrailing(polyline(bend(deg), false), ahead, knife, cutZ).moves.map((move) =>
        move.kind === 'lower' ? move.z : move.kind,
      );
    expect(kinds(90)).toEqual(['travel', cutZ, 'line', 1.5, 'arc', cutZ, 'line', 'lift']);
    expect(kinds(20)).toEqual(['travel', cutZ, 'line', 'arc', 'line', 'lift']);
    expect(kinds(0)).toEqual(['travel', cutZ, 'line', 'line', 'lift']);
  });
});

describe('an arc of the tip', () => {
  // facts 2 [D]: axis radius sqrt(R^2 + d^2), same centre, ahead by atan(d / R).
  it.each([
    [50, 6, 50.3587, 6.8428],
    [20, 1, 20.02498, (Math.atan(1 / 20) * 180) / Math.PI],
  ])('of radius %d with offset %d', (radius, offset, axisRadius, leadDeg) => {
    const quarter = Math.tan(Math.PI / 8);
    const tip = {
      closed: false,
      vertices: [
        { x: 0, y: -radius, bulge: quarter },
        { x: radius, y: 0, bulge: 0 },
      ],
    };
    const from = { at: point(offset, -radius), deg: 0 };
    const { moves, after } = cutTrailing(tip, from, { ...knife, offset }, cutZ);
    const [arc, ...others] = arcsOf(moves);
    expect(others).toEqual([]);
    expect(arc!.centre.x).toBeCloseTo(0, 9);
    expect(distance(arc!.to, arc!.centre)).toBeCloseTo(axisRadius, 4);
    const lead = (Math.atan2(arc!.to.y, arc!.to.x) * 180) / Math.PI;
    expect(lead).toBeCloseTo(leadDeg, 4);
    expect(arc!.sweepDeg).toBeCloseTo(90, 9);
    expect(after.deg).toBeCloseTo(90, 9);
  });
});

describe('the heading', () => {
  it('is carried through travel and turned about the start before the cut', () => {
    const tip = polyline([point(30, 40), point(30, 90)], false);
    const { moves, after } = cutTrailing(tip, { at: point(0, 0), deg: 180 }, knife, cutZ);
    expect(moves[0]).toEqual({ kind: 'travel', to: point(24, 40) });
    expect(moves[1]).toEqual({ kind: 'lower', z: 1.5 });
    expect(moves[2]).toMatchObject({ kind: 'arc', centre: point(30, 40), to: point(30, 46) });
    expect(after).toEqual({ at: point(30, 96), deg: 90 });
  });
});
