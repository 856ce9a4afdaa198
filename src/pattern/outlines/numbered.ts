import type { Entity, PointEntity } from '../../drawing/drawing.ts';
import { headingOf } from '../../geometry/paths/angle.ts';
import { placeInPath } from '../../geometry/relations/contains.ts';
import { nearestOnPath } from '../../geometry/measuring/nearest.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { circle, polyline, segmentsOf } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { leftOf, plus, times } from '../../geometry/paths/point.ts';
import { tangentAt } from '../../geometry/paths/segment.ts';
import type { LayerMap, Role } from '../layers.ts';
import { isNumbered, meaningOf } from '../layers.ts';

/** Beyond this (mm) a group 30 is the height of a drawing above its plane, no notch and no drill. */
const most = { depth: 50, drill: 50 };

/**
 * The path of a point on a layer of ASTM D6673: a notch is a line as deep as group 30 says, from the
 * point into the outline along the angle of group 50 (either way) or square to the edge, and a drill
 * hole a circle of the diameter that 30 gives. Undefined where the point says no more than its place.
 */
export function numberedPath(
  { layer, at, mark }: PointEntity,
  role: Role,
  outline: Path | undefined,
): Path | undefined {
  if (mark === undefined || !isNumbered(layer) || mark.height <= 0) return undefined;
  if (role === 'HOLE') return mark.height <= most.drill ? circle(at, mark.height / 2) : undefined;
  if (role !== 'NOTCH' || outline === undefined || mark.height > most.depth) return undefined;
  const across = mark.deg === null ? squareTo(outline, at) : headingOf(mark.deg);
  const ends = [1, -1].map((way) => plus(at, times(across, way * mark.height)));
  const inner = ends.find((end) => placeInPath(outline, end) === 'inside');
  return inner === undefined ? undefined : polyline([at, inner], false);
}

function squareTo(outline: Path, at: Point): Point {
  const { station } = nearestOnPath(outline, at);
  return leftOf(tangentAt(segmentsOf(outline)[station.segment]!, station.t));
}

/** The first closed outline of a piece. */
export function outlineAmong(entities: readonly Entity[], map: LayerMap): Path | undefined {
  const found = entities.find(
    (entity) =>
      entity.kind === 'path' &&
      entity.path.closed &&
      meaningOf(entity.layer, map)?.role === 'OUTLINE',
  );
  return found?.kind === 'path' ? found.path : undefined;
}
