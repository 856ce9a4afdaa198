import Flatbush from 'flatbush';
import type { Box } from '../paths/box.ts';

/**
 * Finds the boxes that meet a box, touching edges included. Returns their indexes, rising. Made for many
 * questions about the same boxes.
 */
export type BoxIndex = (box: Box) => number[];

/** An index of boxes that lie anywhere. It is a tree; see bandIndex for the boxes of one path. */
export function boxIndex(boxes: readonly Box[]): BoxIndex {
  if (boxes.length === 0) return () => [];
  const index = new Flatbush(boxes.length);
  for (const { minX, minY, maxX, maxY } of boxes) index.add(minX, minY, maxX, maxY);
  index.finish();
  return ({ minX, minY, maxX, maxY }) => index.search(minX, minY, maxX, maxY).sort((a, b) => a - b);
}
