import { refuse } from '../findings.ts';

/** A group code and its value: two lines of the file. `line` is the code's, counted from 1. */
export interface Tag {
  readonly code: number;
  readonly value: string;
  readonly line: number;
}

/**
 * The tags of a DXF up to its EOF, comments (999) left out, any line ends, blanks around codes and
 * numbers allowed. Throws a Refusal naming the line where a group code or a number is none, and
 * where the file does not end with EOF, so that a file cut short is never read in part.
 */
export function readTags(text: string): Tag[] {
  const lines = linesOf(text);
  const tags: Tag[] = [];
  for (let i = 0; i + 1 < lines.length; i += 2) {
    const tag = tagAt(lines, i);
    if (tag.code === 0 && tag.value === 'EOF') {
      checkRest(lines, i + 2);
      return tags;
    }
    if (tag.code !== 999) tags.push(tag);
  }
  return refuse(
    'cut-off',
    'the file ends without EOF: it is incomplete, cut off while it was written or copied.',
    'Export the drawing again and copy the whole file.',
    { line: lines.length },
  );
}

/** What follows the last line end is no line. */
function linesOf(text: string): string[] {
  const lines = text.split(/\r\n?|\n/);
  return lines.at(-1) === '' ? lines.slice(0, -1) : lines;
}

function tagAt(lines: readonly string[], i: number): Tag {
  const code = lines[i]!.trim();
  const line = i + 1;
  if (!/^\d{1,4}$/.test(code) || Number(code) > 1071) {
    refuse(
      'group-code',
      `"${clipped(code)}" stands where a DXF group code (0 to 1071) must stand.`,
      'The file is damaged or no DXF; export the drawing again.',
      { line },
    );
  }
  return checkedTag({ code: Number(code), value: lines[i + 1]!, line });
}

function checkedTag({ code, value, line }: Tag): Tag {
  if (code === 0) return { code, value: value.trim(), line };
  const form = within(integers, code) ? whole : within(reals, code) ? real : undefined;
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

function within(ranges: Ranges, code: number): boolean {
  return ranges.some(([first, last]) => first <= code && code <= last);
}

/** Old systems close a text file with Ctrl-Z. */
function checkRest(lines: readonly string[], from: number): void {
  const at = lines.findIndex((line, i) => i >= from && line.replaceAll('\u001a', '').trim() !== '');
  if (at < 0) return;
  refuse(
    'after-eof',
    `"${clipped(lines[at]!)}" stands after the end of the drawing (EOF).`,
    'The file holds more than one drawing or is damaged; export it again.',
    { line: at + 1 },
  );
}

function clipped(text: string): string {
  return text.length > 40 ? `${text.slice(0, 40)}…` : text;
}
