import type { Drawing, Entity } from '../../drawing/drawing.ts';

/**
 * Entities that belong together: one place of an insert, a block that nothing places, or all loose
 * entities.
 */
export interface Group {
  /** The name of the block. null: the loose entities. */
  readonly block: string | null;
  readonly entities: readonly Entity[];
}

/**
 * The groups of a drawing: inserts and loose entities in the order of model space, then blocks that
 * nothing places.
 */
export function groupsOf({ blocks, entities, unplaced }: Drawing): Group[] {
  const groups = new Map<string, { block: string | null; entities: Entity[] }>();
  for (const entity of entities) {
    const { placement } = entity;
    const key = placement === undefined ? '' : `${placement.line}/${placement.copy}`;
    const group = groups.get(key) ?? { block: placement?.block ?? null, entities: [] };
    group.entities.push(entity);
    groups.set(key, group);
  }
  const spare = blocks.filter(({ name }) => unplaced.includes(name));
  return [
    ...groups.values(),
    ...spare.map(({ name, entities: inside }) => ({ block: name, entities: inside })),
  ];
}
