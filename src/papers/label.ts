import { flatten } from '../geometry/flatten.ts';
import type { Path } from '../geometry/path.ts';
import type { Point } from '../geometry/point.ts';
import { chordError } from '../geometry/tolerance.ts';

/** Lines of text with the size that lets them stand upright inside a part. */
export interface FittedText {
  readonly lines: readonly string[];
  /** Height of the type, mm on the lay. */
  readonly size: number;
}

/** Width of a character of a bold sans serif, as a share of its size, on the generous side. */
const characterWidth = 0.66;
export const lineSpacing = 1.12;

/** What must stand in one block: words that may be broken between, a line of its own, and empty rows. */
export interface TextBlock {
  readonly words: readonly string[];
  readonly last: string;
  /** Height kept free below the text, in lines. */
  readonly rowsBelow: number;
}

/**
 * The largest type between `smallest` and `largest` in which a block of text fits level about a
 * centre inside the outlines (outer and holes, same frame, mm), broken into lines where words meet.
 * Where even the smallest does not fit it is used all the same: better over the edge than unnamed.
 */
export function fitText(
  { words, last, rowsBelow }: TextBlock,
  outlines: readonly Path[],
  centre: Point,
  { smallest, largest }: { smallest: number; largest: number },
): FittedText {
  const rings = outlines.map((path) => flatten(path, 10 * chordError));
  const choices = breaks(words).map((lines) => {
    const all = [...lines, last];
    return { lines: all, size: sizeThatFits(all, rowsBelow, rings, centre, largest) };
  });
  const best = choices.reduce((a, b) => (b.size > a.size ? b : a));
  return { lines: best.lines, size: Math.max(smallest, best.size) };
}

/** All ways to set the words in up to three lines. */
function breaks(words: readonly string[]): string[][] {
  const join = (from: number, to: number): string => words.slice(from, to).join('');
  const all: string[][] = [[join(0, words.length)]];
  for (let i = 1; i < words.length; i++) {
    all.push([join(0, i), join(i, words.length)]);
    for (let j = i + 1; j < words.length; j++)
      all.push([join(0, i), join(i, j), join(j, words.length)]);
  }
  return all;
}

function sizeThatFits(
  lines: readonly string[],
  rowsBelow: number,
  rings: readonly Point[][],
  centre: Point,
  largest: number,
): number {
  const longest = Math.max(...lines.map((line) => line.length));
  let size = largest;
  // The room narrows as the type grows: a few rounds settle it.
  for (let round = 0; round < 12; round++) {
    const room = levelRoom(rings, centre, (size * lineSpacing * (lines.length + rowsBelow)) / 2);
    const fitting = (2 * room) / (longest * characterWidth);
    if (fitting >= size) return size;
    size = Math.max(fitting, size * 0.8);
  }
  return size;
}

/** Half the width that is free on both sides of a centre, over a band of its height, mm. */
function levelRoom(rings: readonly Point[][], centre: Point, halfHeight: number): number {
  let room = Infinity;
  for (const ring of rings) {
    for (const [i, a] of ring.entries()) {
      const clipped = clipToBand(
        a,
        ring[(i + 1) % ring.length]!,
        centre.y - halfHeight,
        centre.y + halfHeight,
      );
      for (const x of clipped) room = Math.min(room, Math.abs(x - centre.x));
    }
  }
  return room;
}

/** The x of the ends of what a side has inside a band of heights. */
function clipToBand(a: Point, b: Point, low: number, high: number): number[] {
  if (Math.max(a.y, b.y) < low || Math.min(a.y, b.y) > high) return [];
  const at = (y: number): number =>
    a.y === b.y ? a.x : a.x + ((b.x - a.x) * (y - a.y)) / (b.y - a.y);
  const inside = (y: number): number => Math.min(high, Math.max(low, y));
  if (a.y === b.y) return [a.x, b.x];
  return [at(inside(a.y)), at(inside(b.y))];
}
