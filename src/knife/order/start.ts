import { headingDeg, turnDeg } from '../../geometry/paths/angle.ts';
import { nearestOnPath } from '../../geometry/measuring/nearest.ts';
import type { Path, Station } from '../../geometry/paths/path.ts';
import {
  middleOfPath,
  pathLength,
  segmentsOf,
  startAt,
  withoutZeroSegments,
} from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import type { Segment } from '../../geometry/paths/segment.ts';
import { pointAt, segmentLength, tangentAt } from '../../geometry/paths/segment.ts';
import type { Edge } from '../../handing/part.ts';

/** A smaller turn (degrees) is no corner: a start there would show as a corner in a smooth edge. */
const cornerDeg = 5;
/** The edge is looked at this far after a corner (mm), so that the corner itself does not decide. */
const pastCorner = 5;

/** More places than this are thinned out evenly. */
const mostStarts = 48;

/**
 * The places at which a closed contour may be begun, so that the seam between its start and its end is
 * seen as little as possible: at a corner after which an edge is not on show; otherwise in the middle of
 * the longest such edge; otherwise at any corner, or at any vertex if there is no corner. `edges` lie
 * along the net outline, in the same frame as the contour and an allowance away from it. For a contour
 * inside a part they are empty.
 */
export function allowedStarts(contour: Path, edges: readonly Edge[]): Station[] {
  const segments = segmentsOf(contour);
  const corners = cornersOf(contour);
  const hidden = corners.filter((i) => isHidden(justPast(segments[i]!), edges));
  if (hidden.length > 0) return stationsOf(hidden);
  const covered = longestHidden(edges);
  if (covered !== undefined) return [nearestOnPath(contour, middleOfPath(covered.path)).station];
  return stationsOf(corners.length > 0 ? corners : [...contour.vertices.keys()]);
}

function stationsOf(vertices: readonly number[]): Station[] {
  const each = Math.ceil(vertices.length / mostStarts);
  return vertices.filter((_, i) => i % each === 0).map((segment) => ({ segment, t: 0 }));
}

/** The contour, begun at a station. */
export function begunAt(contour: Path, station: Station): Path {
  return withoutZeroSegments(startAt(contour, station));
}

/** The vertices at which a closed path turns. */
function cornersOf(contour: Path): number[] {
  const segments = segmentsOf(contour);
  const corners: number[] = [];
  for (const [i, segment] of segments.entries()) {
    const before = segments.at(i - 1)!;
    const turn = turnDeg(headingDeg(tangentAt(before, 1)), headingDeg(tangentAt(segment, 0)));
    if (Math.abs(turn) > cornerDeg) corners.push(i);
  }
  return corners;
}

function justPast(segment: Segment): Point {
  return pointAt(segment, Math.min(0.5, pastCorner / segmentLength(segment)));
}

/**
 * Whether the edge nearest to the point is out of sight. If one out of sight and one on show are equally
 * near, it is not.
 */
function isHidden(p: Point, edges: readonly Edge[]): boolean {
  const nearest = (onShow: boolean): number =>
    Math.min(
      Infinity,
      ...edges
        .filter((edge) => edge.onShow === onShow)
        .map(({ path }) => nearestOnPath(path, p).distance),
    );
  return nearest(false) < nearest(true);
}

function longestHidden(edges: readonly Edge[]): Edge | undefined {
  const hidden = edges.filter((edge) => !edge.onShow);
  return hidden.toSorted((a, b) => pathLength(b.path) - pathLength(a.path))[0];
}
