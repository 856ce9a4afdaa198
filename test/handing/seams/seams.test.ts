import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Refusal } from '../../../src/base/findings.ts';
import type { Path } from '../../../src/geometry/paths/path.ts';
import { alongPath, pathLength, polyline } from '../../../src/geometry/paths/path.ts';
import { stretchOf } from '../../../src/geometry/paths/stretch.ts';
import { translation, transformPath } from '../../../src/geometry/paths/transform.ts';
import { deriveParts } from '../../../src/handing/derive.ts';
import { partsByPiece, seamsOf } from '../../../src/handing/seams/seams.ts';
import type { Follows } from '../../../src/pattern/layers.ts';
import type { Piece } from '../../../src/pattern/piece.ts';
import type { Feature } from '../../../src/pattern/feature.ts';
import type { PatternSet } from '../../../src/pattern/set.ts';
import { outline } from '../../geometry/arbitrary.ts';
import { feature, line, materials, oblong, order, patternSet, piece } from '../fixtures.ts';

const ease = 3;

/** Carpet with so little seam allowance that it fits every outline of these tests. */
const stock = new Map([
  ...materials,
  [
    'carpet',
    {
      ...materials.get('carpet')!,
      allowances: { ...materials.get('carpet')!.allowances, seam: 0 },
    },
  ] as const,
]);

function seamFindings(set: PatternSet): string[] {
  try {
    const { findings } = deriveParts(set, order('RHD'), stock);
    return findings.filter(({ rule }) => rule.startsWith('seam-')).map(({ rule }) => rule);
  } catch (error) {
    fc.pre(!(error instanceof Refusal));
    throw error;
  }
}

function notchAt(path: Path, along: number, follows: Follows | null): Feature {
  return feature('NOTCH', polyline([alongPath(path, along).point], false), follows);
}

/** The right half of a pair whose halves are sewn together along one edge. */
function sewnPair(shape: Path, seam: Path, notches: readonly Feature[]): PatternSet {
  const half: Piece = {
    ...piece('half', { side: 'pair', drawnSide: 'right' }, shape, [
      feature('SEAM', seam),
      ...notches,
    ]),
    axis: null,
  };
  return patternSet('RHD', [half], { ease, seams: [{ join: ['half', 'half'] }] });
}

/** An outline and a stretch of it, in shares of its length; the stretch may go over the start. */
const stretch = fc
  .tuple(outline, fc.integer({ min: 0, max: 99 }), fc.integer({ min: 20, max: 60 }))
  .map(([shape, from, share]) => {
    const length = pathLength(shape);
    const to = ((from + share) * length) / 100;
    return { shape, seam: stretchOf(shape, (from * length) / 100, to % length) };
  });

describe('an edge sewn to its own mirror image', () => {
  it('always fits, with whatever notches', () => {
    fc.assert(
      fc.property(
        stretch,
        fc.array(fc.double({ min: 0.02, max: 0.98, noNaN: true }), { maxLength: 5 }),
        ({ shape, seam }, shares) => {
          const length = pathLength(seam);
          const notches = shares.map((share) => notchAt(seam, length * share, null));
          expect(seamFindings(sewnPair(shape, seam, notches))).toEqual([]);
        },
      ),
    );
  });

  it('does not fit with a notch that is moved on one half by more than the ease', () => {
    fc.assert(
      fc.property(
        stretch,
        fc.double({ min: 0.25, max: 0.75, noNaN: true }),
        fc.double({ min: -10, max: 10, noNaN: true }),
        ({ shape, seam }, share, moved) => {
          // A tenth beyond the ease is what two drawings may differ by.
          fc.pre(Math.abs(Math.abs(moved) - ease - 0.1) > 0.01);
          const along = pathLength(seam) * share;
          const notches = [notchAt(seam, along, 'RIGHT'), notchAt(seam, along + moved, 'LEFT')];
          const expected = Math.abs(moved) > ease + 0.1 ? ['seam-notch', 'seam-notch'] : [];
          expect(seamFindings(sewnPair(shape, seam, notches))).toEqual(expected);
        },
      ),
    );
  });

  it('does not fit with a notch on one half alone', () => {
    fc.assert(
      fc.property(stretch, fc.double({ min: 0.02, max: 0.98, noNaN: true }), (drawn, share) => {
        const { shape, seam } = drawn;
        const notches = [notchAt(seam, pathLength(seam) * share, 'LEFT')];
        expect(seamFindings(sewnPair(shape, seam, notches))).toEqual(['seam-notch']);
      }),
    );
  });
});

describe('which edges are sewn together', () => {
  const joinsIn = (pieces: readonly Piece[], join: [string, string]): string[] => {
    const set = patternSet('RHD', pieces, { seams: [{ join }] });
    const { parts } = deriveParts(set, order('RHD'), materials);
    return seamsOf(partsByPiece(parts), set.content).joins.map(({ edges }) =>
      edges.map(({ part, from, to }) => `${part.name} ${from}-${to}`).join(' with '),
    );
  };
  const floor = piece('floor', {}, oblong(-500, 0, 500, 300), [
    feature('SEAM', line(500, 300, -500, 300)),
  ]);
  const flap = piece('flap', { side: 'pair', drawnSide: 'left' }, oblong(-500, 300, 0, 400), [
    feature('SEAM', line(-500, 300, 0, 300)),
  ]);

  it('an edge across the middle is shared by the left and the right of a pair, each its own half', () => {
    // The front of the floor runs from right to left.
    expect(joinsIn([floor, flap], ['floor', 'flap'])).toEqual([
      'floor 500-1000 with flap-left 0-500',
      'floor 0-500 with flap-right 0-500',
    ]);
  });

  it('an edge on one side is sewn to the part on that side alone', () => {
    const right = {
      ...flap,
      name: 'right',
      entry: { ...flap.entry, side: 'centre' as const },
      outline: transformPath(translation({ x: 600, y: 0 }), flap.outline),
      features: flap.features.map((one) => ({
        ...one,
        path: transformPath(translation({ x: 600, y: 0 }), one.path),
      })),
    };
    expect(joinsIn([right, flap], ['right', 'flap'])).toEqual([
      'right 0-500 with flap-right 0-500',
    ]);
  });

  it('copies are sewn one by one', () => {
    const twice = (one: Piece): Piece => ({ ...one, entry: { ...one.entry, quantity: 2 } });
    const cover = { ...floor, name: 'cover' };
    expect(joinsIn([twice(floor), twice(cover)], ['floor', 'cover'])).toEqual([
      'floor-1 0-1000 with cover-1 0-1000',
      'floor-2 0-1000 with cover-2 0-1000',
    ]);
  });
});
