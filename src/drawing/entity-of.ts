import type { Path } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import type { Entity } from './drawing.ts';

/** A path as an entity; a path of one vertex becomes a point. */
export function pathEntity(layer: string, path: Path): Entity {
  const [first] = path.vertices;
  if (path.vertices.length > 1) return { kind: 'path', layer, line: 0, path };
  return { kind: 'point', layer, line: 0, at: { x: first!.x, y: first!.y } };
}

/** An entity as a path; a point, or the place of a text, becomes a path of one vertex. */
export function pathOfEntity(entity: Entity): Path {
  if (entity.kind === 'path') return entity.path;
  const { x, y } = entity.at;
  return { closed: false, vertices: [{ x, y, bulge: 0 }] };
}

/** The point at which an entity begins. */
export function startOfEntity(entity: Entity): Point {
  const { x, y } = pathOfEntity(entity).vertices[0]!;
  return { x, y };
}

/** A text whose line runs along +x. `height` in mm. */
export function textEntity(layer: string, text: string, at: Point, height: number): Entity {
  return { kind: 'text', layer, line: 0, at, text, height, deg: 0 };
}
