import type { Point } from '../paths/point.ts';
import { plus, rightOf, unit } from '../paths/point.ts';
import { tangentAt } from '../paths/segment.ts';
import type { MeasuredPath } from './measured-path.ts';
import { cornerNear, nearestPlace, placeAlong, stationLength } from './measured-path.ts';

/** What is drawn within this distance of a corner (mm) stands on the corner. */
const atCorner = 0.01;

/** A place on an outline, and the direction straight out from it. */
export interface Stand {
  /** Length along the outline from its start, mm. */
  readonly along: number;
  readonly point: Point;
  /** Unit vector. At a corner it points half way between the outward directions of the two sides. */
  readonly outward: Point;
}

/** The place on a counter-clockwise outline that is nearest to a point. */
export function standAt(outline: MeasuredPath, p: Point): Stand {
  const length = stationLength(outline, nearestPlace(outline, p).station);
  const corner = cornerNear(outline, length);
  const along = (Math.abs(corner - length) <= atCorner ? corner : length) % outline.length;
  const { station, point, tangent } = placeAlong(outline, along);
  if (station.t > 0) return { along, point, outward: rightOf(tangent) };
  const { segments } = outline;
  const before = segments[(station.segment + segments.length - 1) % segments.length]!;
  return { along, point, outward: rightOf(unit(plus(tangentAt(before, 1), tangent))) };
}
