import fc from 'fast-check';
import type { Path } from '../../src/geometry/paths/path.ts';
import { circle, polyline } from '../../src/geometry/paths/path.ts';
import type { Point } from '../../src/geometry/paths/point.ts';
import { plus, times } from '../../src/geometry/paths/point.ts';
import { headingOf } from '../../src/geometry/paths/angle.ts';
import { followsWords } from '../../src/pattern/layers.ts';
import type { Piece } from '../../src/pattern/piece.ts';
import type { DrawnLine, Feature } from '../../src/pattern/feature.ts';
import type { PieceEntry } from '../../src/pattern/set-file.ts';
import type { PatternSet } from '../../src/pattern/set.ts';
import { hands, sides } from '../../src/pattern/words.ts';
import { angle, outline, point } from '../geometry/arbitrary.ts';
import { patternSet, piece } from './fixtures.ts';

/** A line of 500 mm through a point at an angle. */
function lineAt(through: Point, deg: number): DrawnLine {
  return { from: through, to: plus(through, times(headingOf(deg), 500)) };
}

const line: fc.Arbitrary<DrawnLine> = fc.tuple(point, angle).map(([p, deg]) => lineAt(p, deg));

const side = fc.constantFrom<PieceEntry['side']>(
  'centre',
  'pair',
  'left',
  'right',
  'driver',
  'passenger',
);

const follows = fc.constantFrom(null, ...followsWords);

/** Something small somewhere about: where it lies does not matter to the laws of handedness. */
const shape: fc.Arbitrary<Pick<Feature, 'role' | 'path'>> = fc
  .tuple(point, fc.constantFrom<Feature['role']>('CUTOUT', 'HOLE', 'MARK', 'STITCH', 'FOLD', 'PAD'))
  .map(([at, role]) => ({ role, path: pathFor(role, at) }));

function pathFor(role: Feature['role'], at: Point): Path {
  if (role === 'HOLE') return circle(at, 7.3);
  const corners = [at, plus(at, { x: 31.7, y: 4.1 }), plus(at, { x: 12.9, y: 55.3 })];
  return polyline(corners, role === 'CUTOUT' || role === 'PAD');
}

const feature: fc.Arbitrary<Feature> = fc
  .tuple(shape, follows)
  .map(([drawn, whom], i = 0): Feature => ({
    ...drawn,
    follows: whom,
    when: [],
    name: null,
    line: i,
  }));

const randomPiece: fc.Arbitrary<Piece> = fc
  .record({
    side,
    drawnSide: fc.constantFrom(...sides),
    outline: fc.constantFrom('body' as const, 'driver' as const),
    shape: outline,
    features: fc.array(feature, { maxLength: 6 }),
    axis: fc.option(line, { nil: null }),
    pile: line,
    at: point,
  })
  .map((drawn) => ({
    ...piece(
      'piece',
      { side: drawn.side, outline: drawn.outline, at: [drawn.at.x, drawn.at.y] },
      drawn.shape,
      drawn.features,
    ),
    axis: drawn.axis,
    pile: drawn.pile,
  }))
  .chain((one) =>
    fc.constantFrom(...sides).map((drawnSide) => ({
      ...one,
      entry:
        one.entry.side === 'pair'
          ? { ...one.entry, drawnSide, pad: 'rubber' }
          : { ...one.entry, pad: 'rubber' },
    })),
  );

/** A set of one to three pieces of any side, with features of any suffix and AXIS lines at any angle. */
export const randomSet: fc.Arbitrary<PatternSet> = fc
  .tuple(fc.constantFrom(...hands), fc.array(randomPiece, { minLength: 1, maxLength: 3 }))
  .map(([drawn, pieces]) =>
    patternSet(
      drawn,
      pieces.map((one, i) => ({ ...one, name: `piece-${i + 1}` })),
    ),
  );
