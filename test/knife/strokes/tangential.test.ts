import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { turnDeg } from '../../../src/geometry/paths/angle.ts';
import type { Path } from '../../../src/geometry/paths/path.ts';
import { circle, pathOf, polyline, segmentsOf } from '../../../src/geometry/paths/path.ts';
import { arcOf } from '../../../src/geometry/paths/segment.ts';
import type { TangentialKnife } from '../../../src/knife/cutter.ts';
import type { Move } from '../../../src/knife/moves.ts';
import { cutTangential } from '../../../src/knife/strokes/tangential.ts';
import { point, somePartsArbitrary } from '../sample-parts.ts';

/** A closed path as one stroke round it. */
function opened(path: Path): Path {
  return pathOf(segmentsOf(path), false);
}

const knife: TangentialKnife = {
  kind: 'tangential',
  axis: { letter: 'C', feed: 21600, acceleration: 7200 },
  liftAboveDeg: 15,
};
const start = { at: point(-20, 0), deg: 0 };

function cut(path: Parameters<typeof cutTangential>[0], deg = 0): readonly Move[] {
  return cutTangential(path, { ...start, deg }, knife, -0.5).moves;
}

function kinds(moves: readonly Move[]): string[] {
  return moves.map(({ kind }) => kind);
}

describe('a corner', () => {
  it('sharper than the threshold is turned with the knife up', () => {
    const moves = cut(polyline([point(0, 0), point(50, 0), point(50, 50)], false));
    expect(kinds(moves)).toEqual([
      'travel',
      'lower',
      'line',
      'lift',
      'turn',
      'lower',
      'line',
      'lift',
    ]);
    expect(moves[4]).toEqual({ kind: 'turn', deg: 90 });
  });

  it('below the threshold is turned in the material', () => {
    const moves = cut(polyline([point(0, 0), point(50, 0), point(100, 10)], false));
    expect(kinds(moves)).toEqual(['travel', 'lower', 'line', 'turn', 'line', 'lift']);
  });

  it('at the start is turned before the knife goes down', () => {
    const moves = cut(polyline([point(0, 0), point(0, 50)], false));
    expect(kinds(moves)).toEqual(['travel', 'turn', 'lower', 'line', 'lift']);
  });
});

describe('the heading', () => {
  it('goes the shortest way round and on past 360', () => {
    const west = polyline([point(0, 0), point(-50, 0)], false);
    expect(cut(west, 170)[1]).toEqual({ kind: 'turn', deg: 180 });
    expect(cut(west, -170)[1]).toEqual({ kind: 'turn', deg: -180 });
    expect(cut(west, 530)[1]).toEqual({ kind: 'turn', deg: 540 });
  });

  it('turns with an arc: once round a circle is 360 degrees', () => {
    const tip = opened(circle(point(0, 0), 30));
    const { after } = cutTangential(tip, { ...start, deg: 90 }, knife, -0.5);
    expect(after.deg).toBeCloseTo(450, 9);
  });

  // The heading of a stroke is that of its chord; of an arc, of its tangent: both worked out here
  // from points alone.
  it('is the direction of travel wherever the knife cuts, and never jumps by more than a half turn', () => {
    fc.assert(
      fc.property(somePartsArbitrary, (parts) => {
        for (const part of parts) {
          const tip = opened(part.cut);
          const strokes = cut(tip).filter((move) => move.kind === 'line' || move.kind === 'arc');
          expect(strokes).toHaveLength(segmentsOf(tip).length);
          for (const [i, segment] of segmentsOf(tip).entries()) {
            const stroke = strokes[i] as Extract<Move, { kind: 'line' | 'arc' }>;
            const chord = Math.atan2(segment.to.y - segment.from.y, segment.to.x - segment.from.x);
            const sweep = segment.bulge === 0 ? 0 : arcOf(segment).sweep;
            const heading = ((chord + sweep / 2) * 180) / Math.PI;
            expect(Math.abs(turnDeg(heading, stroke.deg!))).toBeLessThan(0.02);
          }
          let deg = 0;
          for (const move of cut(tip)) {
            if (move.kind === 'turn') expect(Math.abs(move.deg - deg)).toBeLessThan(180 + 1e-9);
            if ('deg' in move) deg = move.deg!;
          }
        }
      }),
      { numRuns: 50 },
    );
  });
});
