import { refuse } from '../../base/findings.ts';

/** A group code and its value: two lines of the file. `line` is the code's, counted from 1. */
export interface Tag {
  readonly code: number;
  readonly value: string;
  readonly line: number;
}

/** More than this is no pattern drawing: some 80 MB of text, all of which must fit into memory. */
export const mostTags = 6_000_000;

/**
 * The tags of a DXF up to its EOF, comments (999) left out, any line ends, blanks around codes and
 * numbers allowed. Throws a Refusal naming the line where a group code or a number is none, where the
 * file does not end with EOF, so that a file cut short is never read in part, and where it is too long.
 */
export function readTags(text: string): Tag[] {
  checkLength(text);
  const lines = linesOf(text);
  const tags: Tag[] = [];
  for (let code = lines.next(); code !== undefined; code = lines.next()) {
    const line = lines.count();
    const value = lines.next();
    if (value === undefined) break;
    const tag = tagAt(code, value, line);
    if (tag.code === 0 && tag.value === 'EOF') {
      checkRest(lines);
      return tags;
    }
    if (tag.code !== 999) tags.push(tag);
    if (tags.length > mostTags) refuseLength(tag.code, line);
  }
  return refuse(
    'cut-off',
    'the file ends without EOF (group 0): it is incomplete, cut off while it was written or copied.',
    'Export the drawing again and copy the whole file.',
    { line: lines.count() },
  );
}

/** Throws the Refusal of a file of too many groups. */
export function refuseLength(code: number, line: number): never {
  return refuse(
    'too-long',
    `the drawing goes on beyond ${mostTags} groups (here group ${code}); no pattern needs so many.`,
    'Export the pattern pieces alone, or in several files.',
    { line },
  );
}

/** Looks for the end of a long text before it is taken apart: that a text is too long is said at once. */
function checkLength(text: string): void {
  // A group takes at least four signs: two lines of one each.
  if (text.length <= 4 * mostTags) return;
  let at = -1;
  for (let line = 0; line < 2 * mostTags; line++) {
    at = text.indexOf('\n', at + 1);
    if (at < 0) return;
  }
  const end = text.indexOf('\n', at + 1);
  const code = Number(text.slice(at + 1, end < 0 ? text.length : end));
  if (end >= 0) refuseLength(Number.isInteger(code) ? code : 0, 2 * mostTags + 1);
}

/** The lines of a text one by one: without a list of them all, half the memory. */
interface Lines {
  readonly next: () => string | undefined;
  /** How many were taken. */
  readonly count: () => number;
}

/** What follows the last line end is no line. */
function linesOf(text: string): Lines {
  const plain = text.includes('\r') ? text.replace(/\r\n?/g, '\n') : text;
  let at = 0;
  let count = 0;
  return {
    next: () => {
      if (at >= plain.length) return undefined;
      const end = plain.indexOf('\n', at);
      const line = plain.slice(at, end < 0 ? plain.length : end);
      at = end < 0 ? plain.length : end + 1;
      count++;
      return line;
    },
    count: () => count,
  };
}

function tagAt(codeLine: string, value: string, line: number): Tag {
  const code = codeLine.trim();
  if (!/^\d{1,4}$/.test(code) || Number(code) > 1071) {
    refuse(
      'group-code',
      `"${clipped(code)}" stands where a DXF group code (0 to 1071) must stand.`,
      'The file is damaged or no DXF; export the drawing again.',
      { line },
    );
  }
  return checkedTag({ code: Number(code), value, line });
}

/** The tag with blanks around numbers gone. Throws a Refusal where a number is none. */
export function checkedTag({ code, value, line }: Tag): Tag {
  if (code === 0) return { code, value: value.trim(), line };
  const form = forms[code];
  if (form === undefined) return { code, value, line };
  const trimmed = value.trim();
  if (!form.test(trimmed) || !Number.isFinite(Number(trimmed))) {
    refuse(
      'number',
      `"${clipped(trimmed)}" is not a ${form === whole ? 'whole number' : 'number'} (group ${code}).`,
      'The file is damaged; export the drawing again, with decimal points.',
      { line: line + 1 },
    );
  }
  return { code, value: trimmed, line };
}

const whole = /^[+-]?\d+(\.0*)?$/;
const real = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i;

type Ranges = readonly (readonly [first: number, last: number])[];

/** Group codes whose values are numbers, by the ranges of the DXF reference; the rest is text. */
const reals: Ranges = [
  [10, 59],
  [110, 149],
  [210, 239],
  [460, 469],
  [1010, 1059],
];

const integers: Ranges = [
  [60, 99],
  [160, 179],
  [270, 299],
  [370, 389],
  [400, 409],
  [420, 429],
  [440, 459],
  [1060, 1071],
];

/** How the value of each group code is written. */
const forms: readonly (RegExp | undefined)[] = Array.from({ length: 1072 }, (_, code) =>
  within(integers, code) ? whole : within(reals, code) ? real : undefined,
);

function within(ranges: Ranges, code: number): boolean {
  return ranges.some(([first, last]) => first <= code && code <= last);
}

/** Old systems close a text file with Ctrl-Z. */
function checkRest(lines: Lines): void {
  for (let line = lines.next(); line !== undefined; line = lines.next()) {
    if (line.replaceAll('\u001a', '').trim() === '') continue;
    refuse(
      'after-eof',
      `"${clipped(line)}" stands after the end of the drawing (EOF, group 0).`,
      'The file holds more than one drawing or is damaged; export it again.',
      { line: lines.count() },
    );
  }
}

function clipped(text: string): string {
  return text.length > 40 ? `${text.slice(0, 40)}…` : text;
}
