import type { Box } from '../paths/box.ts';
import type { BoxIndex } from './box-index.ts';

/**
 * A BoxIndex for the boxes of one path's segments.
 *
 * The idea: the plane is divided into level bands of equal height, about half as many as there are boxes.
 * Each band lists the boxes that reach into it. A question only looks through the bands that its box
 * reaches into. Segments of a path are small and lie round a ring, so a band holds few of them. This is
 * quicker to build and to search than a tree, above all for rays to the right, which lie in a single
 * band.
 */
export function bandIndex(boxes: readonly Box[]): BoxIndex {
  let [bottom, top] = [Infinity, -Infinity];
  for (const { minY, maxY } of boxes) {
    if (minY < bottom) bottom = minY;
    if (maxY > top) top = maxY;
  }
  const count = Math.max(1, boxes.length >> 1);
  const scale = top > bottom ? count / (top - bottom) : 0;
  const bandAt = (y: number): number => {
    const band = Math.floor((y - bottom) * scale);
    return band < 0 ? 0 : band < count ? band : count - 1;
  };
  const { starts, members, lowest } = sortIntoBands(boxes, count, bandAt);
  return ({ minX, minY, maxX, maxY }) => {
    const found: number[] = [];
    const [first, last] = [bandAt(minY), bandAt(maxY)];
    for (let at = starts[first]!; at < starts[last + 1]!; at++) {
      const i = members[at]!;
      const box = boxes[i]!;
      if (box.minX > maxX || box.maxX < minX || box.minY > maxY || box.maxY < minY) continue;
      // A box that lies in several of these bands is taken only from the first of them.
      if (at >= starts[Math.max(first, lowest[i]!) + 1]!) continue;
      found.push(i);
    }
    return first === last || found.length < 2 ? found : found.sort((a, b) => a - b);
  };
}

interface Bands {
  /** The members of band b are members[starts[b]] up to, but not with, members[starts[b + 1]]. */
  readonly starts: Int32Array;
  /** Indexes of boxes, band after band from the lowest; rising within a band. */
  readonly members: Int32Array;
  /** The lowest band of each box. */
  readonly lowest: Int32Array;
}

function sortIntoBands(boxes: readonly Box[], count: number, bandAt: (y: number) => number): Bands {
  const [lowest, highest] = [new Int32Array(boxes.length), new Int32Array(boxes.length)];
  const starts = new Int32Array(count + 1);
  for (let i = 0; i < boxes.length; i++) {
    lowest[i] = bandAt(boxes[i]!.minY);
    highest[i] = bandAt(boxes[i]!.maxY);
    for (let band = lowest[i]!; band <= highest[i]!; band++) starts[band + 1]!++;
  }
  for (let band = 0; band < count; band++) starts[band + 1]! += starts[band]!;
  const members = new Int32Array(starts[count]!);
  const next = starts.slice();
  for (let i = 0; i < boxes.length; i++) {
    for (let band = lowest[i]!; band <= highest[i]!; band++) members[next[band]!++] = i;
  }
  return { starts, members, lowest };
}
