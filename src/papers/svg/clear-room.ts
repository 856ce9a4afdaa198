import type { Box } from '../../geometry/paths/box.ts';
import { boxOfPoints, boxesOverlap, growBox } from '../../geometry/paths/box.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { segmentsOf } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import type { Segment } from '../../geometry/paths/segment.ts';
import { boxed, segmentSeparation } from '../../geometry/relations/separation.ts';

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

interface Kept {
  readonly segment: Segment;
  readonly box: Box;
  readonly radius: number;
}

/** `lines` are kept clear by `margin` mm; a line of one point is a dot. */
export function clearRoom(lines: readonly Path[], margin: number): ClearRoom {
  const kept: Kept[] = lines.flatMap((path) =>
    pieces(path).map((segment) => ({ ...boxed(segment), radius: margin })),
  );
  return {
    isClear: ({ from, to, radius }) => {
      const own = straight(from, to);
      const box = growBox(boxOfPoints([from, to]), radius);
      return kept.every(
        (one) =>
          !boxesOverlap(growBox(one.box, one.radius), box) ||
          segmentSeparation(own, one.segment) >= radius + one.radius,
      );
    },
    take: ({ from, to, radius }) => {
      kept.push({ ...boxed(straight(from, to)), radius: radius + gap });
    },
  };
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
