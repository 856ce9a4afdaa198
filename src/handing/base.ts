import type { Part, PartKind } from './part.ts';
import type { Side } from '../pattern/words.ts';

/** What names a part and says which it is; its geometry is still to be made. */
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
