import type { Box } from '../../geometry/paths/box.ts';
import { boxOfPath } from '../../geometry/paths/path.ts';
import { flatten } from '../../geometry/paths/flatten.ts';
import { roomiestPoint } from '../../geometry/relations/interior.ts';
import type { Path } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { chordError } from '../../geometry/paths/tolerance.ts';

/** Lines of text at a place inside a part where they stand upright. */
export interface FittedText {
  readonly lines: readonly string[];
  /** Height of the type, mm on the lay. */
  readonly size: number;
  /** Middle of the block, including the space below the text. */
  readonly centre: Point;
}

/** The text of a block. */
export interface TextBlock {
  /** The ways to divide it into lines, the preferred ones first. */
  readonly settings: readonly (readonly string[])[];
  /** Space below the text: its height in lines, and its width as a share of the type's height. */
  readonly below: { readonly rows: number; readonly width: number };
}

/** Height of a line as a share of its size. */
export const lineSpacing = 1.12;

/** Space round a block, as a share of the type's height. */
const padding = 0.2;

/** How many places are tried along each side of a part's box. */
const grid = 7;

/**
 * Fits a block of text, level, inside an outline and clear of its holes (same frame, mm), in type between
 * `smallest` and `largest`. Takes the first setting that fits in the largest type, or otherwise the one
 * that fits in the largest type of all. null: it fits nowhere, even in the smallest.
 */
export function fitText(
  block: TextBlock,
  outline: Path,
  holes: readonly Path[],
  sizes: TextSizes,
): FittedText | null {
  return fitTextIn(block, textRoom(outline, holes), sizes);
}

/** The sizes between which a text may be, mm. */
interface TextSizes {
  readonly smallest: number;
  readonly largest: number;
}

/** The inside of an outline, clear of its holes, as text is fitted into it. */
export interface TextRoom {
  readonly rings: readonly (readonly Point[])[];
  readonly places: readonly Point[];
  /** The point with most room all round. */
  readonly middle: Point;
}

/** The room for texts inside an outline. To find it takes longer than to fit a text, so several share it. */
export function textRoom(outline: Path, holes: readonly Path[]): TextRoom {
  const middle = roomiestPoint(outline, holes).point;
  return {
    rings: [outline, ...holes].map(ringOf),
    places: placesAround(middle, outline, holes),
    middle,
  };
}

/** The same as fitText, in a room that is known. */
export function fitTextIn(
  { settings, below }: TextBlock,
  { rings, places }: TextRoom,
  { smallest, largest }: TextSizes,
): FittedText | null {
  let best: FittedText | null = null;
  for (const lines of settings) {
    const fitted = roomiest(lines, below, rings, places, best?.size ?? smallest);
    best = fitted ?? best;
    if (fitted !== null && fitted.size >= largest) return { ...fitted, size: largest };
  }
  return best;
}

/** The box of the lines of a text, with the space round it. */
export function boxOfText({ lines, size, centre }: FittedText): Box {
  const width = size * (Math.max(...lines.map(lineWidth)) + 2 * padding);
  const height = size * (lines.length * lineSpacing + 2 * padding);
  return {
    minX: centre.x - width / 2,
    minY: centre.y - height / 2,
    maxX: centre.x + width / 2,
    maxY: centre.y + height / 2,
  };
}

/** All ways to divide words into up to three lines, the fewest lines first. */
export function breaksOf(words: readonly string[]): string[][] {
  const join = (from: number, to: number): string => words.slice(from, to).join('');
  const n = words.length;
  const all = [[join(0, n)]];
  for (let i = 1; i < n; i++) all.push([join(0, i), join(i, n)]);
  for (let i = 1; i < n; i++) {
    for (let j = i + 1; j < n; j++) all.push([join(0, i), join(i, j), join(j, n)]);
  }
  return all;
}

/** Width of a line in a bold sans serif, as a share of the type's height; estimated generously. */
export function lineWidth(line: string): number {
  return [...line].reduce((sum, character) => sum + characterWidth(character), 0);
}

function characterWidth(character: string): number {
  if (/[-.,'ijlftr ]/.test(character)) return 0.5;
  if (/[a-z0-9]/.test(character) && !/[mw]/.test(character)) return 0.72;
  return /\p{M}/u.test(character) ? 0 : 1.11;
}

/**
 * Places for the middle of a text inside an outline and outside its holes: the point with most room all
 * round, and a grid of others, because a line of text mainly needs room at its sides.
 */
export function placesIn(outline: Path, holes: readonly Path[]): Point[] {
  return placesAround(roomiestPoint(outline, holes).point, outline, holes);
}

function placesAround(middle: Point, outline: Path, holes: readonly Path[]): Point[] {
  const { minX, minY, maxX, maxY } = boxOfPath(outline);
  const shares = Array.from({ length: grid }, (_, i) => (i + 0.5) / grid);
  const points = shares.flatMap((u) =>
    shares.map((v) => ({ x: minX + (maxX - minX) * u, y: minY + (maxY - minY) * v })),
  );
  const [around, ...inside] = [outline, ...holes].map(ringOf);
  const isFree = (point: Point): boolean =>
    isInRing(around!, point) && !inside.some((ring) => isInRing(ring, point));
  return [middle, ...points].filter(isFree);
}

/** A path as straight pieces, exact enough to place words in it. */
function ringOf(path: Path): Point[] {
  return flatten(path, 10 * chordError);
}

/** Whether a point lies in a ring: a ray from it to the right crosses the ring an odd number of times. */
function isInRing(ring: readonly Point[], { x, y }: Point): boolean {
  let isIn = false;
  let a = ring.at(-1)!;
  for (const b of ring) {
    if (a.y > y !== b.y > y && x < a.x + ((b.x - a.x) * (y - a.y)) / (b.y - a.y)) isIn = !isIn;
    a = b;
  }
  return isIn;
}

/** The lines at the place where they can be largest. null: they would be no larger than `above`. */
function roomiest(
  lines: readonly string[],
  below: TextBlock['below'],
  rings: readonly (readonly Point[])[],
  places: readonly Point[],
  above: number,
): FittedText | null {
  const width = Math.max(below.width, ...lines.map(lineWidth)) + 2 * padding;
  const height = (lines.length + below.rows) * lineSpacing + 2 * padding;
  const fits = (centre: Point, size: number): boolean =>
    levelRoom(rings, centre, (size * height) / 2) >= (size * width) / 2;
  let best: FittedText | null = null;
  for (const centre of places) {
    const least: number = best?.size ?? above;
    if (fits(centre, least)) {
      best = { lines, centre, size: largestOf(least, (size) => fits(centre, size)) };
    }
  }
  return best;
}

/** The largest size that fits, to one percent. The size `least` is known to fit. */
function largestOf(least: number, fits: (size: number) => boolean): number {
  let [low, high] = [least, 2 * least];
  while (fits(high)) [low, high] = [high, 2 * high];
  while (high > 1.01 * low) {
    const middle = (low + high) / 2;
    if (fits(middle)) low = middle;
    else high = middle;
  }
  return low;
}

/** Half the width that is free on both sides of a centre, within a band of heights, mm. */
function levelRoom(
  rings: readonly (readonly Point[])[],
  centre: Point,
  halfHeight: number,
): number {
  const [low, high] = [centre.y - halfHeight, centre.y + halfHeight];
  let room = Infinity;
  for (const ring of rings) {
    let a = ring.at(-1)!;
    for (const b of ring) {
      if (Math.max(a.y, b.y) >= low && Math.min(a.y, b.y) <= high) {
        const [from, to] = [xInBand(a, b, a, low, high), xInBand(a, b, b, low, high)];
        const crosses = from < centre.x !== to < centre.x;
        const side = Math.min(Math.abs(from - centre.x), Math.abs(to - centre.x));
        room = Math.min(room, crosses ? 0 : side);
      }
      a = b;
    }
  }
  return room;
}

/**
 * The part of a side from a to b that lies within a band of heights has two ends. Returns the x of the
 * one towards `end`.
 */
function xInBand(a: Point, b: Point, end: Point, low: number, high: number): number {
  if (a.y === b.y) return end.x;
  const y = Math.min(high, Math.max(low, end.y));
  return a.x + ((b.x - a.x) * (y - a.y)) / (b.y - a.y);
}
