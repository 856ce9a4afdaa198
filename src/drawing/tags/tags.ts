import { refuse } from '../../base/findings.ts';

/** A group code and its value: two lines of the file. `line` is the line of the code, counted from 1. */
export interface Tag {
  readonly code: number;
  readonly value: string;
  readonly line: number;
}

/** No pattern drawing has more tags: they are some 80 MB of text, all of which must fit into memory. */
export const mostTags = 6_000_000;

/**
 * The tags of a DXF in text form, up to its EOF. Comments (group 999) are left out. Any line ends are
 * allowed, and blanks around codes and numbers. Throws a Refusal that names the line if a group code or a
 * number is not one, if the text is too long, or if it does not end with EOF: so an incomplete file is
 * never read in part.
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

/** Throws the Refusal for a file with too many tags. */
export function refuseLength(code: number, line: number): never {
  return refuse(
    'too-long',
    `the drawing goes on beyond ${mostTags} groups (here group ${code}); no pattern needs so many.`,
    'Export the pattern pieces alone, or in several files.',
    { line },
  );
}

/**
 * Refuses a text with too many lines before it is divided into tags, so that the user need not wait for
 * it.
 */
function checkLength(text: string): void {
  // A tag takes at least four characters: two lines with one character each.
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

/** Gives the lines of a text one by one. A list of all lines would take twice the memory. */
interface Lines {
  readonly next: () => string | undefined;
  /** How many lines `next` has given so far. */
  readonly count: () => number;
}

/** Begins to read a text line by line. If the text ends with a line end, no empty line follows it. */
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

/**
 * The tag without blanks around its number. Throws a Refusal if its value must be a number and is not.
 */
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

/** Group codes whose values are decimal numbers, by the ranges of the DXF reference. */
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

/** The form that the value of each group code must have. undefined: it is text. */
const forms: readonly (RegExp | undefined)[] = Array.from({ length: 1072 }, (_, code) =>
  within(integers, code) ? whole : within(reals, code) ? real : undefined,
);

function within(ranges: Ranges, code: number): boolean {
  return ranges.some(([first, last]) => first <= code && code <= last);
}

/** Refuses anything after the EOF but blank lines and Ctrl-Z, with which old systems end a text file. */
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
