import { headingDeg, turnDeg } from '../geometry/angle.ts';
import { nearestOnPath } from '../geometry/nearest.ts';
import type { Path, Station } from '../geometry/path.ts';
import {
  middleOfPath,
  pathLength,
  segmentsOf,
  startAt,
  withoutZeroSegments,
} from '../geometry/path.ts';
import type { Point } from '../geometry/point.ts';
import { distance } from '../geometry/point.ts';
import type { Segment } from '../geometry/segment.ts';
import { pointAt, segmentLength, tangentAt } from '../geometry/segment.ts';
import type { Edge } from '../handing/part.ts';

/** A lesser turn (degrees) is no corner: a start there would show as one in a smooth edge. */
const cornerDeg = 5;
/** How far behind a corner (mm) the edge is looked at, so that the corner itself does not decide. */
const pastCorner = 5;

/**
 * A closed contour begun where its start and end meet least in sight: at the corner nearest to the
 * knife that begins a stretch not on show; else in the middle of the longest such stretch; else at
 * the corner nearest to the knife. `edges` lie along the net outline, within an allowance of the
 * contour; both, and the knife, in one frame.
 */
export function begunOutOfSight(contour: Path, edges: readonly Edge[], knife: Point): Path {
  const segments = segmentsOf(contour);
  const corners = cornersOf(contour);
  const hidden = corners.filter((i) => isHidden(justPast(segments[i]!), edges));
  if (hidden.length > 0) return begunAt(contour, nearestVertex(contour, hidden, knife));
  const covered = longestHidden(edges);
  if (covered !== undefined) {
    const middle = middleOfPath(covered.path);
    return begunAt(contour, nearestOnPath(contour, middle).station);
  }
  return begunNear(contour, knife);
}

/** A closed contour begun at the corner nearest to the knife, or the vertex where it has no corner. */
export function begunNear(contour: Path, knife: Point): Path {
  const corners = cornersOf(contour);
  const all = contour.vertices.map((_, i) => i);
  return begunAt(contour, nearestVertex(contour, corners.length > 0 ? corners : all, knife));
}

function begunAt(contour: Path, station: Station): Path {
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

function nearestVertex(contour: Path, candidates: readonly number[], to: Point): Station {
  const far = (i: number): number => distance(contour.vertices[i]!, to);
  return { segment: candidates.reduce((best, i) => (far(i) < far(best) ? i : best)), t: 0 };
}

function justPast(segment: Segment): Point {
  return pointAt(segment, Math.min(0.5, pastCorner / segmentLength(segment)));
}

/** Whether the edge nearest to the point is out of sight; where two are as near, the one on show decides. */
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
