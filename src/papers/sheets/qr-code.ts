import bwipjs from 'bwip-js/node';

/** The dark and light squares of a code, row by row, without the white space round it. */
interface Modules {
  /** 1 for dark, 0 for light. */
  readonly pixs: Uint8Array;
  /** How many there are in a row, and how many rows. */
  readonly pixx: number;
}

/** Codes that were made, by their text: to make one takes longer than all else of a label. */
const codes = new Map<string, Modules>();
const mostCodes = 2000;

/** A text as a QR code (ISO/IEC 18004) of error correction level M. */
export function qrModules(text: string): Modules {
  const known = codes.get(text);
  if (known !== undefined) return known;
  const code = leastPenalty(text);
  if (codes.size >= mostCodes) codes.clear();
  codes.set(text, code);
  return code;
}

/** How many patterns of squares may be laid over a code, so that it has no large fields of one kind. */
const masks = 8;

/**
 * The code with that mask which the standard's penalties prefer. The library is slow at finding it, but what one mask
 * changes against another does not depend on the text: of each size that is found out once, and laid over the
 * code with the first mask.
 */
function leastPenalty(text: string): Modules {
  const first = withMask(text, 1);
  const { pixx } = first;
  const all = changesOf(text, first).map((changes) =>
    first.pixs.map((dark, i) => dark ^ changes[i]!),
  );
  const penalties = all.map((pixs) => penalty(pixs, pixx));
  return { pixs: all[penalties.indexOf(Math.min(...penalties))]!, pixx };
}

/** A code with the mask of that number, from 1. */
function withMask(text: string, mask: number): Modules {
  const options = `eclevel=M mask=${mask}`;
  const [code] = bwipjs.raw('qrcode', text, options) as unknown as [
    { pixs: number[]; pixx: number },
  ];
  return { pixs: Uint8Array.from(code.pixs, (dark) => (dark === 0 ? 0 : 1)), pixx: code.pixx };
}

/** What each mask changes against the first one, by the size of codes: 1 where a square is the other way. */
const changesBySize = new Map<number, Uint8Array[]>();

function changesOf(text: string, first: Modules): Uint8Array[] {
  const known = changesBySize.get(first.pixx);
  if (known !== undefined) return known;
  const changes = Array.from({ length: masks }, (_, i) =>
    withMask(text, i + 1).pixs.map((dark, k) => dark ^ first.pixs[k]!),
  );
  changesBySize.set(first.pixx, changes);
  return changes;
}

/** ISO/IEC 18004, 7.8.3: the four kinds of patterns that make a code harder to read, and what each counts. */
function penalty(pixs: Uint8Array, size: number): number {
  let sum = 0;
  let dark = 0;
  for (let i = 0; i < size; i++) {
    sum += linePenalty(pixs, i * size, 1, size) + linePenalty(pixs, i, size, size);
    if (i > 0) sum += 3 * blocksBelow(pixs, (i - 1) * size, size);
  }
  for (const one of pixs) dark += one;
  return sum + 10 * Math.floor(Math.abs(dark / pixs.length - 0.5) / 0.05);
}

/** The large squares in the corners have this profile; here with four white squares before or behind. */
const finders = new Set([0b0000_1011101, 0b1011101_0000]);

/** What runs of five or more of a kind count on a line of squares, and what looks like a corner. */
function linePenalty(pixs: Uint8Array, start: number, step: number, size: number): number {
  let sum = 0;
  let run = 0;
  // The last eleven squares; round the code all is white.
  let last = 0;
  for (let i = 0; i < size + 4; i++) {
    const dark = i < size ? pixs[start + i * step]! : 0;
    last = ((last << 1) | dark) & 0b111_1111_1111;
    if (finders.has(last)) sum += 40;
    if (i >= size) continue;
    run = i > 0 && dark === pixs[start + (i - 1) * step] ? run + 1 : 1;
    if (run === 5) sum += 3;
    else if (run > 5) sum += 1;
  }
  return sum;
}

/** How many fields of two by two between a row and the next are of one kind. */
function blocksBelow(pixs: Uint8Array, row: number, size: number): number {
  let count = 0;
  for (let x = row + 1; x < row + size; x++) {
    const dark = pixs[x - 1]! + pixs[x]! + pixs[x + size - 1]! + pixs[x + size]!;
    if (dark === 0 || dark === 4) count++;
  }
  return count;
}
