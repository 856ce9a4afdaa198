import type { Entity } from '../drawing/drawing.ts';
import { placed } from '../drawing/entities/placing.ts';
import type { Transform } from '../geometry/paths/transform.ts';

/** An entity moved or turned. Throws RangeError if it would be stretched. */
export function movedEntity(entity: Entity, by: Transform): Entity {
  const moved = placed(by, entity);
  if (moved.kind === 'curves') throw new RangeError('a thing of a piece is moved, not stretched');
  return moved;
}
