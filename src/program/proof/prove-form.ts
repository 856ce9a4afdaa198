import type { Finding } from '../../base/findings.ts';
import type { Cutter } from '../../knife/cutter.ts';
import type { Program } from '../reading/actions.ts';
import { axisOf } from '../reading/read.ts';
import { readLine } from '../reading/words.ts';
import { fault } from './faults.ts';

/** Faults of the form of a program, and its lines that are the profile's own. */
export interface ProgramForm {
  /** The lines that `program.before` and `program.after` of the profile give, counted from 1. */
  readonly own: ReadonlySet<number>;
  readonly findings: Finding[];
}

/**
 * Faults of the form of a program. The first words must set every mode: plane, unit, no offsets, work
 * offset, exact path, no cycle, distances and feeds. Nothing may set one again. The lines of the profile
 * stand after them and before M2. Every other line has the words of one step, and no others.
 */
export function proveForm(program: Program, cutter: Cutter): ProgramForm {
  const { file } = program;
  const words = program.lines.map(wordsOf);
  const open = words.findIndex((text) => text !== '' && !text.startsWith('('));
  const close = words.findLastIndex((text) => text !== '' && !text.startsWith('('));
  const { before, after } = cutter.program;
  const afterAt = close - after.length;
  const findings = [
    ...openingFaults(words[open] ?? '', cutter, { file, line: open + 1 }),
    ...ownFaults(before, words, open + 1, 'before', file),
    ...ownFaults(after, words, afterAt, 'after', file),
  ];
  const own = new Set([
    ...before.map((_, i) => open + 2 + i),
    ...after.map((_, i) => afterAt + 1 + i),
  ]);
  findings.push(...numberFaults(program, cutter, own));
  const form = formOf(cutter);
  for (const [i, text] of words.entries()) {
    if (i <= open || i >= close || own.has(i + 1) || text === '') continue;
    if (text.startsWith('(') && text.endsWith(')')) continue;
    if (form.test(text)) continue;
    const wrong = whatIsOdd(program.lines[i]!, i + 1, file, form);
    if (wrong !== undefined) findings.push(fault(...wrong, { file, line: i + 1 }));
  }
  return { own, findings };
}

/** A line without its number and the blanks at its ends. */
function wordsOf(line: string): string {
  return line.replace(/^\s*N\d+\s*/i, '').trim();
}

/** The modes that a program sets before anything else. */
function modesOf({ program: { units } }: Cutter): string[] {
  return ['G17', units === 'mm' ? 'G21' : 'G20', 'G40', 'G49', 'G54', 'G61', 'G80', 'G90', 'G94'];
}

function openingFaults(
  text: string,
  cutter: Cutter,
  where: { file: string; line: number },
): Finding[] {
  const said = new Set(text.toUpperCase().match(/[A-Z][-+.\d]+/g) ?? []);
  const modes = modesOf(cutter);
  const missing = modes.filter((mode) => !said.has(mode));
  const more = [...said].filter((word) => !modes.includes(word));
  return [
    ...(missing.length === 0
      ? []
      : [
          fault(
            'modes',
            `the first words do not set ${missing.join(', ')}: the machine would keep what was set before.`,
            where,
          ),
        ]),
    ...(more.length === 0
      ? []
      : [fault('modes', `the first words have ${more.join(', ')} besides the modes.`, where)]),
  ];
}

function ownFaults(
  own: readonly string[],
  words: readonly string[],
  at: number,
  place: 'before' | 'after',
  file: string,
): Finding[] {
  const squeezed = (text: string): string => wordsOf(text).replaceAll(/\s+/g, ' ');
  return own.flatMap((text, i) => {
    const there = words[at + i] ?? '';
    if (squeezed(there) === squeezed(text)) return [];
    const message = `"${there}" stands where the profile has the line "${text}" (program.${place}).`;
    return [fault('own-lines', message, { file, line: Math.max(0, at + i) + 1 })];
  });
}

/** A fault if lines have numbers, or have none, against what the profile says. Comments need none. */
function numberFaults(
  { lines, file }: Program,
  { program: { lineNumbers } }: Cutter,
  own: ReadonlySet<number>,
): Finding[] {
  const isNumbered = (line: string): boolean => /^\s*N\d/i.test(line);
  const wrong = lines.findIndex(
    (line, i) => !own.has(i + 1) && !/^\s*(?:\(|$)/.test(line) && isNumbered(line) !== lineNumbers,
  );
  if (wrong === -1) return [];
  const message = lineNumbers
    ? 'a line has no number, and the profile numbers all.'
    : 'a line has a number, and the profile numbers none.';
  return [fault('line-number', message, { file, line: wrong + 1 })];
}

const figure = String.raw`-?\d+(?:\.\d+)?`;

/** The lines that a program for this cutter may have between its modes and its end, as one pattern. */
function formOf(cutter: Cutter): RegExp {
  const axis = axisOf(cutter);
  const turn = axis === undefined ? '' : ` ${axis}${figure}`;
  const feed = `(?: F${figure})?`;
  const place = `X${figure} Y${figure}`;
  const steps = [
    `G0 ${place}`,
    `G0 Z${figure}`,
    `G1 Z${figure}${feed}`,
    ...(axis === undefined ? [] : [`G1${turn}${feed}`]),
    `G1 ${place}${turn}${feed}`,
    `G[23] ${place} I${figure} J${figure}${turn}${feed}`,
    `F${figure}`,
    `G4 P${figure}`,
    'M[0359]',
    ...(cutter.punch === undefined ? [] : [cutter.punch.word]),
  ];
  return new RegExp(`^(?:${steps.join('|')})$`);
}

/** The letters of words in the order in which programs have them. */
const letters = 'XYZIJRABCFPS';

/** What is odd about a line that is not written as the product writes; undefined: only how it is written. */
function whatIsOdd(
  text: string,
  number: number,
  file: string,
  form: RegExp,
): [string, string] | undefined {
  const line = readLine(text, number, file);
  if (line.messages.length + line.comments.length > 0) {
    return [
      'words',
      'a comment stands in a line with words: a program has it in a line of its own.',
    ];
  }
  const modes = line.codes.filter((code) => /^G(?:17|2[01]|40|49|54|61|80|90|94)$/.test(code));
  if (modes.length > 0) {
    return ['modes', `${modes.join(', ')} stands again where the modes are set already.`];
  }
  const inOrder = [...line.values].toSorted(([a], [b]) => letters.indexOf(a) - letters.indexOf(b));
  const words = [...line.codes, ...inOrder.map(([letter, value]) => `${letter}${value}`)].join(' ');
  return form.test(words)
    ? undefined
    : ['words', `"${words}" is no step of a program for this cutter.`];
}
