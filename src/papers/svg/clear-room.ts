import type { Box } from '../../geometry/paths/box.ts';
import { boxOfPoints, boxesOverlap, growBox } from '../../geometry/paths/box.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { segmentsOf } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import type { Segment } from '../../geometry/paths/segment.ts';
import { boxOfSegment } from '../../geometry/paths/segment.ts';
import { segmentSeparation } from '../../geometry/relations/separation.ts';

/** Something laid over a picture: all within `radius` of the straight line between two points. Mm on the page. */
export interface Patch {
  readonly from: Point;
  readonly to: Point;
  readonly radius: number;
}

export function disc(at: Point, radius: number): Patch {
  return { from: at, to: at, radius };
}

/** What must not be covered: lines of a picture, and patches that are there already. */
export interface ClearRoom {
  readonly isClear: (patch: Patch) => boolean;
  readonly take: (patch: Patch) => void;
}

/** A line with the distance that is kept from it, and the box round both. */
interface Kept {
  readonly segment: Segment;
  readonly box: Box;
  readonly radius: number;
}

/** Side of the squares by which what is near is found, mm: somewhat more than a patch. */
const square = 6;

/** `lines` are kept clear by `margin` mm; a line of one point is a dot. */
export function clearRoom(lines: readonly Path[], margin: number): ClearRoom {
  const squares = new Map<number, Kept[]>();
  const keep = (segment: Segment, radius: number): void => {
    const kept = { segment, box: growBox(boxOfSegment(segment), radius), radius };
    for (const key of squaresOf(kept.box)) {
      const own = squares.get(key);
      if (own === undefined) squares.set(key, [kept]);
      else own.push(kept);
    }
  };
  for (const path of lines) for (const segment of pieces(path)) keep(segment, margin);
  return {
    isClear: ({ from, to, radius }) => {
      const own = straight(from, to);
      const box = growBox(boxOfPoints([from, to]), radius);
      return squaresOf(box).every((key) =>
        (squares.get(key) ?? []).every(
          (one) =>
            !boxesOverlap(one.box, box) ||
            segmentSeparation(own, one.segment) >= radius + one.radius,
        ),
      );
    },
    take: ({ from, to, radius }) => keep(straight(from, to), radius + gap),
  };
}

/** The squares that a box touches, each as one number. */
function squaresOf({ minX, minY, maxX, maxY }: Box): number[] {
  const keys: number[] = [];
  for (let x = Math.floor(minX / square); x <= Math.floor(maxX / square); x++) {
    for (let y = Math.floor(minY / square); y <= Math.floor(maxY / square); y++) {
      keys.push(1e4 * x + y);
    }
  }
  return keys;
}

/** Between two patches, mm. */
const gap = 0.3;

/** Whether two patches lie apart from each other. */
export function areApart(one: Patch, other: Patch): boolean {
  const away = segmentSeparation(straight(one.from, one.to), straight(other.from, other.to));
  return away >= one.radius + other.radius + gap;
}

function pieces(path: Path): Segment[] {
  const [only, ...more] = path.vertices;
  return only !== undefined && more.length === 0 ? [straight(only, only)] : segmentsOf(path);
}

function straight(from: Point, to: Point): Segment {
  return { from, to, bulge: 0 };
}
