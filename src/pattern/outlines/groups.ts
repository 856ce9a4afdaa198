import type { Drawing, Entity } from '../../drawing/drawing.ts';

/** What belongs together in a drawing: one place of an insert, a block that none places, or all that is loose. */
export interface Group {
  /** The name of the block; null: the group is what is drawn loose. */
  readonly block: string | null;
  readonly entities: readonly Entity[];
}

/** The groups of a drawing, inserts and loose entities as they come in model space, then unplaced blocks. */
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
