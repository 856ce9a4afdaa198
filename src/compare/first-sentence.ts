import { counted, metresUp, shownNames } from '../base/wording.ts';
import type { Comparable, InputKind } from './comparable.ts';
import type { Difference, Fact } from './difference.ts';
import type { Matter } from './what-matters.ts';
import { byMatter } from './what-matters.ts';

/**
 * What matters most of what differs, in one sentence. `inputs`: what was compared; null: every byte is the same.
 */
export function firstSentence(
  differences: readonly Difference[],
  inputs: readonly [before: Comparable, after: Comparable] | null,
): string {
  const [gravest] = byMatter(differences);
  if (gravest === undefined || inputs === null) return 'They are the same.';
  const { matter, differences: own } = gravest;
  const thing = things[inputs[0].kind];
  return `${sentences[matter](own, thing)}${takes(matter, inputs)}.`;
}

/** What is told apart in each kind of input. */
const things: Readonly<Record<InputKind, string>> = {
  run: 'part',
  set: 'piece',
  drawing: 'outline',
  program: 'stroke',
};

type Sentence = (own: readonly Difference[], thing: string) => string;

const sentences: Readonly<Record<Matter, Sentence>> = {
  machine: machineSentence,
  mirrored: (own, thing) => `Do not mix them: ${are(own, thing)} mirrored (${namesOf(own)})`,
  parts: (own, thing) => {
    const gone = own.filter(({ kind }) => kind === 'removed');
    const young = own.filter(({ kind }) => kind === 'added');
    return [
      ...(gone.length === 0 ? [] : [`${are(gone, thing)} gone`]),
      ...(young.length === 0 ? [] : [`${are(young, thing)} new`]),
    ].join(' and ');
  },
  shapes: (own, thing) => {
    const count = labelsIn(own).length;
    return `${counted(count, thing)} ${count === 1 ? 'has' : 'have'} another shape (${namesOf(own)})`;
  },
  places: (own, thing) => {
    const count = labelsIn(own).length;
    return `The shapes are the same, and ${counted(count, thing)} ${count === 1 ? 'lies' : 'lie'} elsewhere`;
  },
  order: () => 'Shapes and places are the same, and are cut in another order',
  words: () => 'Shapes, places and order are the same: only words differ',
};

function are(own: readonly Difference[], thing: string): string {
  return `${counted(own.length, thing)} ${own.length === 1 ? 'is' : 'are'}`;
}

function labelsIn(own: readonly Difference[]): string[] {
  return [...new Set(own.map(({ label }) => label ?? 'the whole'))];
}

function namesOf(own: readonly Difference[]): string {
  return shownNames(labelsIn(own), 3);
}

/** What a person calls the facts on which most hangs, the gravest first. */
const factNames: readonly (readonly [RegExp, string])[] = [
  [/^units|^cutter\.program\.units$/, 'the unit of length'],
  [/^cutter\.face$/, 'the face that lies up'],
  [/^cutter\.(?:name|title)$/, 'the machine'],
  [/^cutter\.heights\.cut$|^height$/, 'the height of the knife'],
  [/^cutter\.heights\./, 'the height above the roll'],
  [/^cutter\.feeds\.|^feed$/, 'the feed'],
  [/^cutter\.(?:knife|blade)\./, 'the knife'],
  [/thickness$/, 'the thickness of the material'],
  [/^(?:pileDeg|pile runs)$/, 'the pile'],
];

function machineSentence(own: readonly Difference[]): string {
  const larger = own.find(({ kind }) => kind === 'outline');
  if (larger !== undefined) return `Do not mix them: ${larger.message.split(':')[0]!}`;
  const facts = own.flatMap(({ fact }) => fact ?? []);
  const rank = ({ name }: Fact): number => {
    const at = factNames.findIndex(([pattern]) => pattern.test(name));
    return at < 0 ? factNames.length : at;
  };
  const first = facts.toSorted((a, b) => rank(a) - rank(b))[0]!;
  const words = factNames[rank(first)]?.[1] ?? first.name;
  const others = new Set(facts.map(({ name }) => name)).size - 1;
  const more = others === 0 ? '' : `, and ${counted(others, 'more thing')} of machine or cloth`;
  return `Do not mix them: ${words} ${change(first)}${more}`;
}

function change({ was, is }: Fact): string {
  if (was === undefined) return `is new, ${is}`;
  return is === undefined ? `is gone, was ${was}` : `was ${was} and is ${is}`;
}

/** How much more or less cloth is taken, of the roll on which that differs most; empty where nothing hangs on it. */
function takes(matter: Matter, [before, after]: readonly [Comparable, Comparable]): string {
  if (!['parts', 'shapes', 'places'].includes(matter)) return '';
  const differ = Object.entries(after.lengths ?? {}).flatMap(([sheet, length]) => {
    const was = before.lengths?.[sheet];
    return was === undefined || Math.abs(length - was) < 1 ? [] : [{ sheet, by: length - was }];
  });
  const [most] = differ.toSorted((a, b) => Math.abs(b.by) - Math.abs(a.by));
  if (most === undefined) return '';
  return `; ${most.sheet} takes ${metresUp(Math.abs(most.by))} ${most.by < 0 ? 'less' : 'more'}`;
}
