import type { Box } from '../geometry/paths/box.ts';
import { boxOfPoints, emptyBox, unionBox } from '../geometry/paths/box.ts';
import { boxOfPath } from '../geometry/paths/path.ts';
import type { Entity } from './drawing.ts';

/**
 * The box around entities, mm. Of a text only its place counts: how wide it comes out depends on the
 * reader's font.
 */
export function boxOfEntities(entities: readonly Entity[]): Box {
  return entities
    .map((entity) => (entity.kind === 'path' ? boxOfPath(entity.path) : boxOfPoints([entity.at])))
    .reduce(unionBox, emptyBox);
}
