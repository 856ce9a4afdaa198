import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Finding } from '../../../src/base/findings.ts';
import type { Path } from '../../../src/geometry/paths/path.ts';
import { circle, polyline, reversePath, startAt } from '../../../src/geometry/paths/path.ts';
import type { Transform } from '../../../src/geometry/paths/transform.ts';
import {
  compose,
  reflection,
  transformPath,
  translation,
} from '../../../src/geometry/paths/transform.ts';
import type { Piece } from '../../../src/pattern/piece.ts';
import type { Feature } from '../../../src/pattern/feature.ts';
import { checkMirrored } from '../../../src/pattern/rules/mirrored.ts';
import { checkPiece } from '../../../src/pattern/rules/rules.ts';
import { outline, point } from '../../geometry/arbitrary.ts';
import { feature, piece } from '../../handing/fixtures.ts';

/** In the mirror at x = 0, and then somewhere else on the sheet. */
const toOther = compose(translation({ x: -30, y: 1000 }), reflection({ x: 0, y: 0 }, 90));

const sheet = { side: 'pair', drawnSide: 'right' } as const;

function mirrored(one: Piece, by: Transform = toOther): Piece {
  return {
    ...one,
    outline: transformPath(by, one.outline),
    features: one.features.map((each) => ({ ...each, path: transformPath(by, each.path) })),
  };
}

/** 400 wide and 300 long with a corner off, so that no turn makes it its own image. */
const shape = polyline(
  [
    [100, 0],
    [500, 0],
    [500, 200],
    [400, 300],
    [100, 300],
  ].map(([x, y]) => ({ x: x!, y: y! })),
  true,
);
const hole = (x: number, y: number, radius = 10): Feature =>
  feature('HOLE', circle({ x, y }, radius));
const right: Piece = {
  ...piece('a', sheet, shape, [hole(200, 100), hole(400, 200)]),
  axis: null,
};

function withFeatures(one: Piece, features: Feature[]): Piece {
  return { ...one, features };
}

function withOutline(one: Piece, path: Path): Piece {
  return { ...one, outline: path };
}

/** `rule x,y` in the other half’s block. */
function brief({ rule, where: { at } }: Finding): string {
  return at === undefined ? rule : `${rule} ${at.x.toFixed(1)},${at.y.toFixed(1)}`;
}

function found(other: Piece): string[] {
  return checkMirrored(right, other).map(brief);
}

describe('the two halves of a pair', () => {
  it('fit where the one is the mirror image of the other, wherever it is drawn', () => {
    fc.assert(
      fc.property(outline, fc.array(point, { maxLength: 3 }), point, (path, holes, by) => {
        const one = {
          ...piece(
            'a',
            sheet,
            path,
            holes.map(({ x, y }) => hole(x, y)),
          ),
          axis: null,
        };
        const other = mirrored(one, compose(translation(by), reflection({ x: 0, y: 0 }, 90)));
        expect(checkMirrored(one, other)).toEqual([]);
      }),
    );
  });

  it('fit whichever way and from whichever corner their lines are drawn', () => {
    const other = mirrored(right);
    const turned = startAt(other.outline, { segment: 2, t: 0.3 });
    expect(found(withOutline(other, turned))).toEqual([]);
    const backwards = other.features.map((each) => ({ ...each, path: reversePath(each.path) }));
    expect(found(withFeatures(other, backwards.toReversed()))).toEqual([]);
  });

  it('are mirrored in the AXIS line, where there is one', () => {
    const level = { from: { x: 0, y: 50 }, to: { x: 10, y: 50 } };
    const one = { ...right, axis: level };
    const other = mirrored(one, reflection({ x: 0, y: 50 }, 0));
    expect(checkMirrored(one, other)).toEqual([]);
    expect(checkMirrored(right, other)).not.toEqual([]);
  });

  it('do not fit with a hole 5 mm further forward: told once, with the distance', () => {
    // The hole at 400, 200 belongs at -430, 1200; it stands 5 mm in front of it.
    const other = mirrored(right);
    const moved = [other.features[0]!, feature('HOLE', circle({ x: -430, y: 1205 }, 10))];
    const findings = checkMirrored(right, withFeatures(other, moved));
    expect(findings).toHaveLength(1);
    expect(findings[0]!.message).toContain('a HOLE lies up to 5.00 mm beside its mirror image');
    const { x, y } = findings[0]!.where.at!;
    expect(Math.hypot(x + 430, y - 1200)).toBeCloseTo(10, 9);
  });

  it('fit with a hole a twentieth of a millimetre off', () => {
    const other = mirrored(right);
    const moved = [other.features[0]!, feature('HOLE', circle({ x: -430, y: 1200.05 }, 10))];
    expect(found(withFeatures(other, moved))).toEqual([]);
  });

  it('do not fit with an outline that is wider at one side, which moves nothing else', () => {
    // The right edge at x = 500 comes out at -530; the other half is drawn to -537.
    const wider = mirrored(right).outline.vertices.map((vertex) =>
      vertex.x < -529 ? { ...vertex, x: -537 } : vertex,
    );
    const findings = checkMirrored(
      right,
      withOutline(mirrored(right), { closed: true, vertices: wider }),
    );
    expect(findings.map(({ rule }) => rule)).toEqual(['not-mirrored']);
    expect(findings[0]!.message).toContain('the OUTLINE lies up to 7.00 mm');
    expect(findings[0]!.where.at!.x).toBe(-537);
  });

  it('do not fit with something on one half alone', () => {
    const other = mirrored(right);
    const marked = feature('MARK', circle({ x: -300, y: 1100 }, 10));
    expect(found(withFeatures(other, [...other.features, marked]))).toEqual([
      'not-mirrored -290.0,1100.0',
    ]);
    // The image of the first hole begins at the image of its own first point.
    expect(found(withFeatures(other, []))).toEqual([
      'not-mirrored -240.0,1100.0',
      'not-mirrored -440.0,1200.0',
    ]);
    const third = feature('HOLE', circle({ x: -300, y: 1100 }, 10));
    expect(found(withFeatures(other, [...other.features, third]))[0]).toMatch(/^not-mirrored/);
  });

  it('fit with what has a suffix on one half alone', () => {
    const cable = { ...hole(300, 50), follows: 'RIGHT' as const };
    const one = withFeatures(right, [...right.features, cable]);
    expect(checkMirrored(one, mirrored(right))).toEqual([]);
  });

  it('do not fit with what has a suffix on the half that no part is made from', () => {
    const cable = { ...hole(-300, 1050), follows: 'DRIVER' as const };
    const other = mirrored(right);
    const alone = withFeatures(other, [...other.features, cable]);
    expect(found(alone)).toEqual(['other-half-alone -290.0,1050.0']);
    // The same on both halves, each the image of the other.
    const both = {
      ...right,
      features: [...right.features, { ...hole(270, 50), follows: 'DRIVER' as const }],
    };
    expect(checkMirrored(both, alone)).toEqual([]);
  });

  it('say that what is on one half alone may go with a person', () => {
    const [first] = checkMirrored(right, withFeatures(mirrored(right), []));
    expect(first!.todo).toMatch(/-DRIVER or -PASSENGER.*-LEFT or -RIGHT/);
  });

  it('do not fit with a pile that is mirrored too', () => {
    const outwards = { from: { x: 200, y: 100 }, to: { x: 300, y: 100 } };
    const inwards = { from: { x: -200, y: 100 }, to: { x: -300, y: 100 } };
    const one = { ...right, pile: outwards };
    expect(checkMirrored(one, { ...mirrored(right), pile: inwards }).map(brief)).toEqual([
      'pair-pile -200.0,100.0',
    ]);
    expect(checkMirrored(one, { ...mirrored(right), pile: outwards })).toEqual([]);
  });

  it('are held against each other with the other rules', () => {
    const other = withFeatures(mirrored(right), []);
    const rules = checkPiece({ ...right, other }, 'RHD').map(({ rule }) => rule);
    expect(rules).toEqual(['not-mirrored', 'not-mirrored']);
  });
});
