import type { Box } from './box.ts';
import type { BoxIndex } from './box-index.ts';

/**
 * Which of the boxes of one path's segments meet a box, as boxIndex says it. They are small and lie round
 * a ring, so that level bands hold few each: quicker to sort into and to look through than a tree, for
 * rays to the right above all.
 */
export function bandIndex(boxes: readonly Box[]): BoxIndex {
  const bottom = boxes.reduce((least, { minY }) => Math.min(least, minY), Infinity);
  const top = boxes.reduce((most, { maxY }) => Math.max(most, maxY), -Infinity);
  const count = Math.max(1, boxes.length >> 1);
  const scale = top > bottom ? count / (top - bottom) : 0;
  const bandAt = (y: number): number =>
    Math.max(0, Math.min(count - 1, Math.floor((y - bottom) * scale)));
  const lowest = boxes.map(({ minY }) => bandAt(minY));
  const bands = Array.from({ length: count }, (): number[] => []);
  for (let i = 0; i < boxes.length; i++) {
    const highest = bandAt(boxes[i]!.maxY);
    for (let band = lowest[i]!; band <= highest; band++) bands[band]!.push(i);
  }
  return ({ minX, minY, maxX, maxY }) => {
    const found: number[] = [];
    const [first, last] = [bandAt(minY), bandAt(maxY)];
    for (let band = first; band <= last; band++) {
      for (const i of bands[band]!) {
        // A box that lies in several bands is found in the first of them that is looked through.
        if (band > first && lowest[i]! < band) continue;
        const box = boxes[i]!;
        if (box.minX > maxX || box.maxX < minX || box.minY > maxY || box.maxY < minY) continue;
        found.push(i);
      }
    }
    return first === last || found.length < 2 ? found : found.sort((a, b) => a - b);
  };
}
