import { loose } from '../pattern/shop/material.ts';
import type { PartKind } from './part.ts';

/**
 * Whether a pad, board or underlay is fixed to its carpet at the bench. `fixed`: how, in the words of its file; where
 * nobody says it (null), pads and boards are, and an underlay is not.
 */
export function isFixedOn(kind: Exclude<PartKind, 'piece'>, fixed: string | null): boolean {
  return fixed === null ? kind !== 'underlay' : fixed !== loose;
}
