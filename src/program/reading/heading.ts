import type { CommentLine, Program } from './actions.ts';
import { unwrapped } from './comments.ts';

/** What a sentence at the head of a program is about. */
export type HeadSubject = keyof typeof sentences;

/** A sentence at the head of a program, as it was read. */
export interface HeadSentence {
  readonly subject: HeadSubject;
  /** The line in which it begins, counted from 1. */
  readonly line: number;
  readonly text: string;
  /** Names, numbers and words in it, in their order. Empty: one that may be left out is. */
  readonly values: readonly string[];
}

/** The head of a program: its sentences in their order, and the lines that are none. */
export interface Head {
  readonly sentences: readonly HeadSentence[];
  readonly strange: readonly CommentLine[];
}

const number = String.raw`(-?\d+(?:\.\d+)?)`;
const reach = `X ${number} to ${number}, Y ${number} to ${number}`;

/** The sentences that the operator reads at the head of a program, each as it must be worded. */
const sentences = {
  run: `RUN (.+?) ([0-9a-f]{12})(?:, recut of (.+?))?, MATERIAL (.+?) ${number} mm thick, CUTTER (.+)`,
  dry: String.raw`(DRY PROGRAM): the way of the cut with the knife up\. Run this first\.`,
  cut: '(CUTTING PROGRAM)',
  bite: String.raw`BITE (\d+) OF (\d+) ALONE: the roll must lie fed ${number} mm, ${number} inches, from its start\.`,
  up: String.raw`(FACE UP): the roll lies with (the .+) up\.`,
  down: String.raw`(FACE DOWN): the roll lies with (the .+) on the bed\. The lay is mirrored for it\.`,
  roll: `Roll ${number} mm wide, ${number} m needed(?:, (pile leaning towards X plus))?`,
  lay: String.raw`Lay of (\d+) parts?, here (\d+) bites?, ${number} m to cut, ${number} m between, about (?:(\d+) h )?(?:(\d+)|under (1)) min`,
  trailing: `KNIFE trailing by ${number} mm, blade ${number} mm, tip ${number} mm below the bed`,
  tangential: `KNIFE tangential, turned by ([ABC]), (oscillating|still), blade ${number} mm, tip ${number} mm below the bed`,
  turnTrue: String.raw`(Before the start) turn the trailing knife to heading 0: tip behind the axis, towards X minus\.`,
  turnByEye: String.raw`(Before the start) turn the trailing knife by eye to heading 0, within 90 degrees: tip behind the axis, towards X minus\. A cut in waste turns it true\.`,
  heading: String.raw`Heading 0 of ([ABC]) is along X plus\.`,
  units: String.raw`X0 Y0 is the start of the roll at its edge, Z0 the bed\. (Millimetres|Inches)\.`,
  arcs: String.raw`Arcs are cut as lines that leave them by ${number} mm at most\.`,
  reachMm: `REACH in mm: ${reach}`,
  reachInches: `REACH in inches: ${reach}`,
  noSafety: String.raw`(CAUTION): this program is no safety function\. M0 and M5 do not replace the emergency stop\.`,
  guards: String.raw`(Guards closed), hands and loose clothing clear of gantry and feed rollers\.`,
  isolate: String.raw`(Stop and isolate) the machine before anyone touches the blade or the roll\.`,
  rules: String.raw`(The rules) of the maker of the machine and of the workplace come first\.`,
} as const;

const patterns = (Object.entries(sentences) as [HeadSubject, string][]).map(
  ([subject, words]) => [subject, new RegExp(`^${words}$`)] as const,
);

/**
 * Reads the head of a program. Every sentence begins with a line of its own and may be wrapped. Lines
 * that are no known sentence, nor the beginning of one, are strange.
 */
export function readHead({ head }: Pick<Program, 'head'>): Head {
  const found: HeadSentence[] = [];
  const strange: CommentLine[] = [];
  let at = 0;
  while (at < head.length) {
    const sentence = sentenceAt(head, at);
    if (sentence === undefined) {
      strange.push(head[at]!);
      at += 1;
    } else {
      found.push(sentence.read);
      at = sentence.end;
    }
  }
  return { sentences: found, strange };
}

/** The most lines over which a sentence is wrapped: names may be long. */
const mostLines = 12;

/**
 * The longest sentence that begins with a line. The longest, because a name at its end may go on in the
 * next line; but none goes on where another sentence begins.
 */
function sentenceAt(
  head: readonly CommentLine[],
  at: number,
): { read: HeadSentence; end: number } | undefined {
  let best: { read: HeadSentence; end: number } | undefined;
  for (let end = at + 1; end <= Math.min(head.length, at + mostLines); end++) {
    if (end > at + 1 && beginsSentence(head[end - 1]!)) break;
    const text = unwrapped(head.slice(at, end));
    for (const [subject, pattern] of patterns) {
      const match = pattern.exec(text);
      if (match === null) continue;
      const values = match.slice(1).map((value) => value ?? '');
      best = { read: { subject, line: head[at]!.line, text, values }, end };
    }
  }
  return best;
}

/** The first words of sentences, with which no line in the middle of one begins. */
const openings =
  /^(?:RUN |DRY PROGRAM:|CUTTING PROGRAM$|BITE \d|FACE (?:UP|DOWN):|Roll \d|Lay of \d|KNIFE |Before the start|Heading 0|X0 Y0 is|Arcs are|REACH in|CAUTION:|Guards closed|Stop and isolate|The rules of)/;

function beginsSentence({ text }: CommentLine): boolean {
  return openings.test(text);
}
