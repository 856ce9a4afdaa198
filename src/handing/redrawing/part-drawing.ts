import type { Entity } from '../../drawing/drawing.ts';
import { pathEntity, textEntity } from '../../drawing/entity-of.ts';
import { headingOf } from '../../geometry/paths/angle.ts';
import { roomiestPoint } from '../../geometry/relations/interior.ts';
import { middleOfPath, polyline } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { minus, plus, times } from '../../geometry/paths/point.ts';
import { tracedKinds } from '../../pattern/edges.ts';
import type { Role } from '../../pattern/layers.ts';
import type { Edge, Mark, Part } from '../part.ts';

/** The line to cut, beside the roles: an OUTLINE is as fitted, without allowances. */
export const cutLayer = 'CUT';

/** Height of texts, mm. */
const textHeight = 12;
/** Length of the PILE line, mm, where there is room. */
const pileLength = 100;

/**
 * A part as a drawing of its own, in the vehicle's frame: layers by role without suffixes, since its
 * side is decided. Edges as their lines with their names, the pile as its line, the name on NOTE.
 */
export function partEntities(part: Part): Entity[] {
  const centre = roomiestPoint(
    part.net,
    part.inner.map(({ path }) => path),
  );
  return [
    pathEntity('OUTLINE', part.net),
    pathEntity(cutLayer, part.cut),
    ...part.inner.map(({ role, path }) => pathEntity(role, path)),
    ...part.notches.map(({ from, to }) => pathEntity('NOTCH', polyline([from, to], false))),
    ...part.marks.map(markEntity),
    ...part.edges.flatMap(edgeEntities),
    ...pileEntities(part.pileDeg, centre.point, Math.min(pileLength, centre.radius)),
    textEntity('NOTE', part.name, plus(centre.point, { x: 0, y: textHeight }), textHeight),
  ];
}

/** A drill mark is a point on HOLE, as it is drawn on the piece. */
function markEntity({ role, path }: Mark): Entity {
  return pathEntity(role === 'DRILL' ? 'HOLE' : role, path);
}

function edgeEntities({ kind, name, path }: Edge): Entity[] {
  const layer = layerOfKind.get(kind)!;
  const drawn = pathEntity(layer, path);
  if (name === null) return [drawn];
  return [drawn, textEntity(layer, name, middleOfPath(path), textHeight)];
}

const layerOfKind = new Map(
  Object.entries(tracedKinds).map(([role, kind]) => [kind, role as Role] as const),
);

function pileEntities(deg: number | null, middle: Point, length: number): Entity[] {
  if (deg === null) return [];
  const half = times(headingOf(deg), length / 2);
  return [pathEntity('PILE', polyline([minus(middle, half), plus(middle, half)], false))];
}
