import type { Part, PartKind, Side } from './part.ts';

/** Who a part is, before its geometry. */
export type PartBase = Pick<
  Part,
  | 'label'
  | 'name'
  | 'piece'
  | 'kind'
  | 'side'
  | 'hand'
  | 'order'
  | 'set'
  | 'material'
  | 'pileDeg'
  | 'turns'
  | 'tilt'
>;

/** Makes the base of a part of a piece at a position. */
export type MakeBase = (kind: PartKind, side: Side | null, material: string) => PartBase;
