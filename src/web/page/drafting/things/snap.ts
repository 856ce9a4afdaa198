import type { Spot } from '../../../../drafting/edge-view.ts';
import type { PieceView } from '../../../../drafting/view.ts';
import { nearestOnOutline } from './along-outline.ts';
import type { AddedKind } from './placing.ts';

/**
 * Where something comes to lie that is pointed at: what lies within `reach` mm of the outline lies on it. A
 * notch is nowhere else; holes and the like are placed freely.
 */
export function snapOf(
  kind: AddedKind,
  { outline }: Pick<PieceView, 'outline'>,
): ((at: Spot, reach: number) => Spot) | null {
  const isFree = !['notch', 'fold', 'stitch', 'mark', 'centreline'].includes(kind);
  if (outline === null || isFree) return null;
  return (at, reach) => {
    const near = nearestOnOutline(outline, at);
    return kind === 'notch' || near.off <= reach ? near.at : at;
  };
}
