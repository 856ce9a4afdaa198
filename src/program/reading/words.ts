import type { Place } from '../../base/findings.ts';
import { refuse } from '../../base/findings.ts';

export type RotaryAxis = 'A' | 'B' | 'C';

/** The words of one line. Letters are in upper case. */
export interface ProgramLine {
  readonly number: number;
  /** `G1`, `M3` and so on. */
  readonly codes: readonly string[];
  /** All other letters with their values. */
  readonly values: ReadonlyMap<string, number>;
  readonly messages: readonly string[];
  /** All other comments. */
  readonly comments: readonly string[];
}

/** A controller refuses longer lines (NISTIR 6556). */
const longestLine = 256;

/** The codes that are read, by modal group: a line may have one code of each group. */
const groups: readonly (readonly string[])[] = [
  ['G0', 'G1', 'G2', 'G3', 'G80'],
  ['G4'],
  ['G17'],
  ['G20', 'G21'],
  ['G40'],
  ['G49'],
  ['G54'],
  ['G61'],
  ['G90'],
  ['G94'],
  ['M0', 'M1', 'M2'],
  ['M3', 'M5'],
  ['M7', 'M8', 'M9'],
];

const groupOf = new Map(groups.flatMap((codes, group) => codes.map((code) => [code, group])));

const valueLetters = new Set('XYZABCIJRFPSN');

/** Line numbers have five digits at most (NISTIR 6556, from memory). */
const highestLineNumber = 99_999;

/**
 * The words of a line by the spelling rules of RS-274/NGC: spaces mean nothing outside comments, small
 * letters are capitals, numbers have no exponent. Throws a Refusal that names file and line for anything
 * outside the subset.
 */
export function readLine(text: string, number: number, file: string): ProgramLine {
  const where: Place = { file, line: number };
  if (text.length > longestLine) {
    outside(`the line has ${text.length} characters; a controller takes ${longestLine}.`, where);
  }
  const { bare, messages, comments } = withoutComments(text, where);
  const codes: string[] = [];
  const values = new Map<string, number>();
  for (const { letter, value } of wordsOf(bare, where)) {
    if (letter === 'G' || letter === 'M') codes.push(`${letter}${value}`);
    else if (values.has(letter)) outside(`${letter} stands twice in one line.`, where);
    else values.set(letter, value);
  }
  checkCodes(codes, where);
  checkLineNumber(bare, values, where);
  return { number, codes, values, messages, comments };
}

/** A line number must be the first word of its line. It means nothing. */
function checkLineNumber(bare: string, values: Map<string, number>, where: Place): void {
  const own = values.get('N');
  if (own === undefined) return;
  if (!bare.startsWith('N')) outside('N stands first in a line or nowhere.', where);
  if (!Number.isInteger(own) || own < 0 || own > highestLineNumber) {
    outside(`the line number N${own} is no whole number up to ${highestLineNumber}.`, where);
  }
  values.delete('N');
}

function withoutComments(
  text: string,
  where: Place,
): { bare: string; messages: string[]; comments: string[] } {
  const messages: string[] = [];
  const comments: string[] = [];
  let bare = '';
  let rest = text;
  while (rest !== '') {
    const open = rest.indexOf('(');
    if (open === -1) break;
    const close = rest.indexOf(')', open);
    const inside = rest.slice(open + 1, close);
    if (close === -1) outside('a comment is not closed.', where);
    if (inside.includes('(')) outside('a comment stands inside a comment.', where);
    const message = /^\s*MSG\s*,(.*)$/i.exec(inside);
    if (message === null) comments.push(inside.trim());
    else messages.push(message[1]!.trim());
    bare += rest.slice(0, open);
    rest = rest.slice(close + 1);
  }
  return { bare: (bare + rest).replaceAll(/[ \t]/g, '').toUpperCase(), messages, comments };
}

const word = /([A-Z])([+-]?(?:\d+\.?\d*|\.\d+))/y;

function wordsOf(bare: string, where: Place): { letter: string; value: number }[] {
  const words: { letter: string; value: number }[] = [];
  word.lastIndex = 0;
  while (word.lastIndex < bare.length) {
    const at = word.lastIndex;
    const match = word.exec(bare);
    if (match === null) return outside(whatIsWrong(bare.slice(at)), where);
    const letter = match[1]!;
    if (letter !== 'G' && letter !== 'M' && !valueLetters.has(letter)) {
      outside(`the word ${match[0]} is not used here${notUsed.get(letter) ?? ''}.`, where);
    }
    words.push({ letter, value: Number(match[2]) });
  }
  return words;
}

const notUsed = new Map([
  ['K', ' (arcs lie in the plane of the bed)'],
  ['T', ' (the knife is not changed by the program)'],
]);

function whatIsWrong(rest: string): string {
  if (/^[A-Z]?#/.test(rest)) return 'parameters (#) are not used here.';
  if (/^[A-Z]?\[/.test(rest) || /^[A-Z]{2,}/.test(rest)) return 'expressions are not used here.';
  return `"${rest.slice(0, 12)}" is no word.`;
}

function checkCodes(codes: readonly string[], where: Place): void {
  const seen = new Map<number, string>();
  for (const code of codes) {
    const group = groupOf.get(code);
    if (group === undefined) {
      return outside(
        `${code} is not used here${/^G8\d/.test(code) ? ' (a canned cycle)' : ''}.`,
        where,
      );
    }
    const other = seen.get(group);
    if (other !== undefined) {
      outside(`${other} and ${code} stand in one line; a line takes one of them.`, where);
    }
    seen.set(group, code);
  }
}

/** Refuses something that no program of this product contains. */
export function outside(message: string, where: Place): never {
  const todo = 'Let the program be written anew; lines of your own may use its words alone.';
  return refuse('program', message, todo, where);
}
