import type { Part, PartKind } from './part.ts';
import type { Side } from '../pattern/words.ts';

/** The fields of a part that say which part it is, before its geometry is made. */
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
  | 'colour'
  | 'pileDeg'
  | 'turns'
  | 'tilt'
>;

/** Makes the base of a part for a piece at one of its positions. */
export type MakeBase = (kind: PartKind, side: Side | null, material: string) => PartBase;
