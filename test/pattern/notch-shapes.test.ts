import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Path } from '../../src/geometry/paths/path.ts';
import { circle, polyline } from '../../src/geometry/paths/path.ts';
import type { Point } from '../../src/geometry/paths/point.ts';
import { distance } from '../../src/geometry/paths/point.ts';
import { transformPath, transformPoint } from '../../src/geometry/paths/transform.ts';
import type { Feature } from '../../src/pattern/feature.ts';
import { plainNotches } from '../../src/pattern/notch-shapes.ts';
import { isometry } from '../geometry/arbitrary.ts';
import { feature, line, oblong, slotted } from '../handing/fixtures.ts';

type Corner = readonly [x: number, y: number];

const outline = oblong(0, 0, 600, 400);

function path(closed: boolean, ...corners: Corner[]): Path {
  return polyline(
    corners.map(([x, y]) => ({ x, y })),
    closed,
  );
}

function notches(...paths: Path[]): Feature[] {
  return paths.map((one) => feature('NOTCH', one));
}

/** Each with the place on the edge and the tip inside that it stands for, on the lower edge at x = 100. */
const understood: [string, Feature[], Feature['drawnAs'], Corner, Corner][] = [
  ['a V', notches(path(false, [97, 0], [100, 5], [103, 0])), 'v', [100, 0], [100, 5]],
  [
    'a V of two lines that end a hair outside',
    notches(line(97, -0.05, 100, 5), line(103, -0.05, 100, 5)),
    'v',
    [100, 0],
    [100, 5],
  ],
  ['a closed V', notches(path(true, [97, 0], [100, 5], [103, 0])), 'v', [100, 0], [100, 5]],
  [
    'a closed V from its tip',
    notches(path(true, [100, 5], [103, 0], [97, 0])),
    'v',
    [100, 0],
    [100, 5],
  ],
  ['a tick', notches(line(100, -6, 100, 6)), 'tick', [100, 0], [100, 6]],
  ['a tick aslant', notches(line(98, -4, 101, 2)), 'tick', [100, 0], [101, 2]],
  ['a tick mostly outside', notches(line(100, 2, 100, -8)), 'tick', [100, 0], [100, 2]],
  ['a T', notches(line(100, 0, 100, 6), line(97, 6, 103, 6)), 't', [100, 0], [100, 6]],
  [
    'a T, its bar on the edge',
    notches(line(97, 0, 103, 0), line(100, 0, 100, 6)),
    't',
    [100, 0],
    [100, 6],
  ],
  [
    'a T from outside',
    notches(line(100, -4, 100, 6), line(97, -4, 103, -4)),
    't',
    [100, 0],
    [100, 6],
  ],
];

/** Each stays as it is drawn. */
const left: [string, Feature[]][] = [
  ['a point', notches(path(false, [100, 0]))],
  ['a line from the edge', notches(line(100, 0, 100, 6))],
  ['a line from a hair outside', notches(line(100, -0.9, 100, 6))],
  ['a line outwards', notches(line(100, 0, 100, -6))],
  ['a V outwards', notches(path(false, [97, 0], [100, -5], [103, 0]))],
  ['a V with one long leg', notches(path(false, [97, 0], [104, 5], [103, 0]))],
  ['a V off the edge', notches(path(false, [97, 2], [100, 7], [103, 2]))],
  ['a V 40 mm wide', notches(path(false, [80, 0], [100, 20], [120, 0]))],
  ['three sides of a box', notches(path(false, [97, 0], [97, 5], [103, 5], [103, 0]))],
  ['a circle', notches(circle({ x: 100, y: 0 }, 3))],
  ['a line across the piece', notches(line(100, -5, 100, 405))],
  ['a line off the edge', notches(line(100, 3, 100, 9))],
  ['a bar without a stem', notches(line(97, 6, 103, 6))],
  ['a line aslant at the end of another', notches(line(100, 0, 100, 6), line(97, 3, 103, 9))],
  ['two lines side by side', notches(line(97, 0, 97, 6), line(103, 0, 103, 6))],
  ['a cross beside a line', notches(line(100, 0, 100, 6), line(97, 20, 103, 20))],
];

describe('a notch drawn as', () => {
  it.each(understood)(
    '%s is one line in from the edge, wherever the piece is drawn',
    (_, drawn, as, foot, tip) => {
      fc.assert(
        fc.property(isometry, (motion) => {
          const moved = drawn.map((one) => ({ ...one, path: transformPath(motion, one.path) }));
          const [notch, ...more] = plainNotches(moved, transformPath(motion, outline));
          expect(more).toEqual([]);
          expect(notch!.drawnAs).toBe(as);
          const [from, to] = notch!.path.vertices;
          const expected = ([x, y]: Corner): Point => transformPoint(motion, { x, y });
          expect(distance(from!, expected(foot))).toBeLessThan(1e-3);
          expect(distance(to!, expected(tip))).toBeLessThan(1e-9);
        }),
      );
    },
  );

  it.each(left)('%s stays as it is', (_, drawn) => {
    expect(plainNotches(drawn, outline)).toEqual(drawn);
  });

  it('a line that crosses the outline more than once stays as it is', () => {
    const across = notches(line(-5, 100, 200, 100));
    expect(plainNotches(across, slotted)).toEqual(across);
  });

  it('a V of two layers is no V: each line may go with somebody else', () => {
    const [one, other] = notches(line(97, 0, 100, 5), line(103, 0, 100, 5)) as [Feature, Feature];
    const drawn = [one, { ...other, follows: 'DRIVER' as const }];
    expect(plainNotches(drawn, outline)).toEqual(drawn);
  });

  it('anything leaves other features and plain notches alone, and keeps their order', () => {
    const others = [feature('FOLD', line(100, -6, 100, 6)), ...notches(line(300, 0, 300, 6))];
    const drawn = [others[0]!, ...notches(line(100, -6, 100, 6)), others[1]!];
    const read = plainNotches(drawn, outline);
    expect([read[0], read[2]]).toEqual(others);
    expect(read[1]!.drawnAs).toBe('tick');
  });
});
