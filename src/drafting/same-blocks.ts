import type { Block, Entity } from '../drawing/drawing.ts';
import type { Path } from '../geometry/paths/path.ts';

/**
 * The blocks of a drawing that was read again: those in which nothing is drawn otherwise are the ones of before, so
 * that what was worked out of them still holds. Only the lines of the file where they stand are of before, too.
 */
export function knownBlocks(blocks: readonly Block[], before: readonly Block[]): Block[] {
  const known = new Map(before.map((block) => [block.name, block]));
  return blocks.map((block) => {
    const old = known.get(block.name);
    const isSame =
      old !== undefined &&
      old.entities.length === block.entities.length &&
      old.entities.every((entity, i) => isAlike(entity, block.entities[i]!));
    return isSame ? old : block;
  });
}

function isAlike(one: Entity, other: Entity): boolean {
  if (one.kind !== other.kind || one.layer !== other.layer) return false;
  if (one.kind === 'path' && other.kind === 'path') return isSamePath(one.path, other.path);
  const bare = (entity: Entity): string => JSON.stringify({ ...entity, line: 0 });
  return bare(one) === bare(other);
}

function isSamePath(one: Path, other: Path): boolean {
  return (
    one.closed === other.closed &&
    one.vertices.length === other.vertices.length &&
    one.vertices.every((vertex, i) => {
      const { x, y, bulge } = other.vertices[i]!;
      return vertex.x === x && vertex.y === y && vertex.bulge === bulge;
    })
  );
}
