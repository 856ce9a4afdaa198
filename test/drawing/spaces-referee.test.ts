import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readDrawingText } from './read-text.ts';
import { boxOfPath, pathLength } from '../../src/geometry/paths/path.ts';
import type { Path } from '../../src/geometry/paths/path.ts';
import type { Tag } from './dxf.ts';
import { arc, block, dxf, fromBelow, inMm, insert, line, polyline } from './dxf.ts';
import type { RefereeEntity } from './ezdxf.ts';
import { ezdxf, refereeReadings } from './ezdxf.ts';
import { tries } from '../support/thorough.ts';

const coordinate = fc.integer({ min: -500, max: 500 });
const frame = fc.constantFrom<readonly Tag[]>([], fromBelow);
const vertex = fc.tuple(coordinate, coordinate, fc.constantFrom(0, 0.5, -0.8, 1, -2, 0.1));

const figure: fc.Arbitrary<Tag[]> = fc.oneof(
  fc
    .tuple(coordinate, coordinate, coordinate, coordinate, frame)
    .map(([a, b, c, d, more]) => line(a, b, c + 1001, d).concat(more)),
  fc
    .tuple(coordinate, coordinate, fc.integer({ min: 1, max: 90 }), coordinate, coordinate, frame)
    .map(([x, y, r, from, to, more]) => arc([x, y], r, from, to, more)),
  fc
    .tuple(fc.array(vertex, { minLength: 2, maxLength: 4 }), fc.boolean(), frame)
    .map(([vertices, closed, more]) => polyline(vertices, closed ? 1 : 0, more)),
);

/** ezdxf (0.18) does not scale the spacing of an array inside a scaled block, so arrays stand outside. */
const placing = (most: number): fc.Arbitrary<Tag[]> =>
  fc
    .tuple(
      fc.constantFrom(1, 0.5, 2),
      fc.constantFrom(1, -1),
      fc.constantFrom(1, -1),
      fc.constantFrom(0, 90, 30, -45, 200),
      fc.integer({ min: 1, max: most }),
      fc.integer({ min: 1, max: most }),
      frame,
    )
    .map(([size, x, y, turn, columns, rows, more]) => {
      const own: Tag[] = [
        [41, size * x],
        [42, size * y],
        [43, size],
        [50, turn],
        [70, columns],
        [71, rows],
        [44, 700],
        [45, 900],
      ];
      return own.concat(more);
    });

const insertOf = (name: string, most: number): fc.Arbitrary<Tag[]> =>
  fc.tuple(coordinate, coordinate, placing(most)).map(([x, y, more]) => insert(name, x, y, more));

const base = fc.tuple(coordinate, coordinate);

const drawing = fc
  .record({
    inner: fc.array(figure, { minLength: 1, maxLength: 3 }),
    outer: fc.tuple(figure, insertOf('INNER', 1), insertOf('INNER', 1)),
    model: fc.tuple(figure, insertOf('OUTER', 2), insertOf('INNER', 2)),
    bases: fc.tuple(base, base),
  })
  .map(({ inner, outer, model, bases }) =>
    dxf({
      header: [[9, '$ACADVER'], [1, 'AC1009'], ...inMm],
      blocks: [block('INNER', inner, bases[0]), block('OUTER', outer, bases[1])],
      entities: model,
    }),
  );

describe.skipIf(ezdxf.missing)(
  `nested, mirrored, arrayed inserts and frames from below${ezdxf.note}`,
  () => {
    it('come out where ezdxf puts them', () => {
      const drawings = fc.sample(drawing, { numRuns: tries(8, 12), seed: 7 });
      const readings = refereeReadings(drawings);
      for (const [i, text] of drawings.entries()) compare(text, readings[i]!.entities);
    });
  },
);

/** Each path of ours is one of theirs and the other way about. */
function compare(text: string, theirs: readonly RefereeEntity[]): void {
  const left = theirs.filter(({ length }) => length > 0);
  for (const entity of readDrawingText(text, 'case.dxf').entities) {
    if (entity.kind !== 'path') continue;
    const at = left.findIndex((other) => sameFigure(entity.path, other));
    expect(at, JSON.stringify(entity)).toBeGreaterThanOrEqual(0);
    left.splice(at, 1);
  }
  expect(left).toEqual([]);
}

/** ezdxf makes cubic curves of arcs (up to 3 in 10000 of the radius off) and is asked for chords within 0.005 mm. */
function sameFigure(path: Path, other: RefereeEntity): boolean {
  const { minX, minY, maxX, maxY } = boxOfPath(path);
  const length = pathLength(path);
  const near = 1e-4 * length + 0.01;
  return (
    [minX, minY, maxX, maxY].every((side, i) => Math.abs(side - other.box[i]!) < near) &&
    Math.abs(length - other.length) < near
  );
}
