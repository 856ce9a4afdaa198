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

/** The layer of the line to cut. It is no role: an OUTLINE is the net outline, without allowances. */
export const cutLayer = 'CUT';

/** Height of texts, mm. */
const textHeight = 12;
/** Length of the PILE line, mm. It is shorter if there is no room. */
const pileLength = 100;

/**
 * A part as a drawing of its own, in the frame of the vehicle. Layers are roles without suffixes, because
 * the side of the part is decided. Edges are lines with their names, the pile is a line, and the name of
 * the part is on NOTE.
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

/** A mark on the layer of its role. A drill mark is a point on HOLE, as it is on the piece. */
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
