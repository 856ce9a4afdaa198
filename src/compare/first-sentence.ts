import { counted, listed, metresUp, shownNames } from '../base/wording.ts';
import type { Comparable, InputKind } from './comparable.ts';
import { areStrangers } from './comparable.ts';
import type { Difference, Fact } from './difference.ts';
import { factOwner, factWords } from './fact-words.ts';
import { manyMoves } from './lines.ts';
import type { Matter } from './ranks.ts';
import { byMatter } from './ranks.ts';
import { factChange } from './word-differences.ts';

type Inputs = readonly [before: Comparable, after: Comparable];

/**
 * What matters most of what differs, in one sentence: whether two runs have an order in common, scale, mirror, machine,
 * face, units, how many parts are gone and new, and how much of a roll is taken. `inputs`: what was compared; null: every
 * byte is the same.
 */
export function firstSentence(differences: readonly Difference[], inputs: Inputs | null): string {
  if (differences.length === 0 || inputs === null) return 'They are the same.';
  const groups = new Map(byMatter(differences).map((group) => [group.matter, group.differences]));
  const thing = things[inputs[0].kind];
  const own = (matter: Matter): readonly Difference[] => groups.get(matter) ?? [];
  const grave = [
    ...strangers(inputs),
    ...machineClauses(own('machine')),
    ...mirrorClauses(own('mirrored'), thing),
  ];
  const isGrave = own('machine').length + own('mirrored').length > 0;
  const plain = [...partClauses(own('parts'), thing), ...shapeClauses(own('shapes'), thing)];
  const rest = plain.length === 0 && grave.length === 0 ? restClauses(groups, thing) : [];
  const clauses = [
    ...grave,
    ...plain,
    ...(rest.length === 0 ? laidAnewClauses(own('places')) : rest),
    ...lengthClauses(differences, inputs),
  ];
  const said = clauses.join('; ');
  return `${isGrave ? `Do not mix them: ${said}` : capitalFirst(said)}.`;
}

function capitalFirst(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** What is told apart in each kind of input. */
const things: Readonly<Record<InputKind, string>> = {
  run: 'part',
  set: 'piece',
  drawing: 'outline',
  program: 'stroke',
};

function strangers([before, after]: Inputs): string[] {
  if (!areStrangers(before, after)) return [];
  return [
    `the runs have no order in common (${listed(before.orders!)} before, ${listed(after.orders!)} now)`,
  ];
}

/** Facts in the order in which they are said, the gravest first. */
const gravest: readonly RegExp[] = [
  /^cutter\.name$|^machine$/,
  /^(?:cutter\.)?face$/,
  /^units|^cutter\.program\.units$/,
  /^cutter\.heights\.cut$|^height$/,
  /^cutter\.heights\.|^travel height$/,
  /^cutter\.feeds\.|^feed$|^plunge feed$/,
  /^cutter\.(?:knife|blade)\.|^knife$/,
  /thickness$/,
  /^(?:pileDeg|pile runs)$/,
];

function gravity({ name }: Fact): number {
  const at = gravest.findIndex((pattern) => pattern.test(name));
  return at < 0 ? gravest.length : at;
}

/** So many facts of another machine are said at once. */
const mostFacts = 3;

function machineClauses(own: readonly Difference[]): string[] {
  const whole = own.flatMap(({ kind, message }) =>
    kind === 'scale'
      ? [message.split(/[:.](?: |$)/)[0]!]
      : kind === 'machine'
        ? [ended(message.split('; ').slice(0, mostFacts).join('; '))]
        : [],
  );
  const withdrawn = own.filter(({ kind }) => kind === 'withdrawn').length;
  const facts = own.flatMap(({ kind, fact }) => (kind === 'words' && fact !== null ? [fact] : []));
  const [first] = facts.toSorted((a, b) => gravity(a) - gravity(b));
  const others = new Set(facts.map(({ name }) => name)).size - 1;
  const more = others > 0 ? `, and ${counted(others, 'more thing')} of machine or cloth` : '';
  return [
    ...whole,
    ...(withdrawn === 0 ? [] : [`${counted(withdrawn, 'program')} withdrawn by prove`]),
    ...(first === undefined
      ? []
      : [`${factWords(first.name)}${ownerOf(first)} ${factChange(first)}${more}`]),
  ];
}

function ownerOf({ name }: Fact): string {
  const owner = factOwner(name);
  return owner === null ? '' : ` of ${owner}`;
}

function ended(message: string): string {
  return message.replace(/\.$/, '');
}

function mirrorClauses(own: readonly Difference[], thing: string): string[] {
  const whole = own.filter(({ label }) => label === null);
  const single = own.filter(({ label }) => label !== null);
  return [
    ...new Set(
      whole.map(({ sheet, message }) =>
        sheet === null ? ended(message) : `${sheet}: ${ended(message)}`,
      ),
    ),
    ...(single.length === 0
      ? []
      : [
          `${counted(single.length, thing)} ${isOrAre(single.length)} mirrored (${namesOf(single)})`,
        ]),
  ];
}

function partClauses(own: readonly Difference[], thing: string): string[] {
  const of = (kind: Difference['kind']): number =>
    own.filter((one) => one.kind === kind && one.label !== null).length;
  const [gone, young] = [of('removed'), of('added')];
  const files = own.filter(({ file }) => file !== null).length;
  const words = [
    ...(gone === 0 ? [] : [`${counted(gone, thing)} ${isOrAre(gone)} gone`]),
    ...(young === 0 ? [] : [`${counted(young, thing)} ${isOrAre(young)} new`]),
    ...(files === 0
      ? []
      : [`${counted(files, 'program or drawing', 'programs or drawings')} gone or new`]),
  ];
  return words.length === 0 ? [] : [listed(words)];
}

function isOrAre(count: number): string {
  return count === 1 ? 'is' : 'are';
}

function shapeClauses(own: readonly Difference[], thing: string): string[] {
  const cuts = own.filter(({ cause }) => cause === 'cut otherwise');
  const shapes = own.filter(({ cause, kind }) => cause !== 'cut otherwise' && kind !== 'detail');
  const outlined = labelsIn(shapes);
  const inside = own.filter(
    ({ kind, label }) => kind === 'detail' && !outlined.includes(label ?? 'the whole'),
  );
  return [
    ...(shapes.length === 0
      ? []
      : [
          `${counted(outlined.length, thing)} ${outlined.length === 1 ? 'has' : 'have'} another shape (${namesOf(shapes)})`,
        ]),
    ...(inside.length === 0
      ? []
      : [
          `holes, notches or marks of ${counted(labelsIn(inside).length, thing)} differ (${namesOf(inside)})`,
        ]),
    ...(cuts.length === 0
      ? []
      : [
          `${counted(labelsIn(cuts).length, 'thing')} ${isOrAre(labelsIn(cuts).length)} cut otherwise (${namesOf(cuts)})`,
        ]),
  ];
}

function labelsIn(own: readonly Difference[]): string[] {
  return [...new Set(own.map(({ label, file }) => label ?? file ?? 'the whole'))];
}

function namesOf(own: readonly Difference[]): string {
  return shownNames(labelsIn(own), 3);
}

/** Where so many things lie elsewhere that they were laid anew, that is said beside what else there is. */
function laidAnewClauses(places: readonly Difference[]): string[] {
  const count = labelsIn(places.filter(({ label }) => label !== null)).length;
  return count > manyMoves ? [`${count} things lie elsewhere`] : [];
}

/** What is said where machine, parts and shapes are the same. */
function restClauses(groups: ReadonlyMap<Matter, readonly Difference[]>, thing: string): string[] {
  const places = groups.get('places');
  if (places !== undefined) {
    const whole = places.find(({ label, kind }) => label === null && kind !== 'lay');
    if (whole !== undefined) {
      return [
        `the shapes are the same, and ${whole.sheet ?? ''}${whole.sheet ? ': ' : ''}${ended(whole.message)}`,
      ];
    }
    const count = labelsIn(places.filter(({ kind }) => kind !== 'lay')).length;
    if (count === 0)
      return ['shapes and places are the same, but not what the lays are said to take'];
    return [
      `the shapes are the same, and ${counted(count, thing)} ${count === 1 ? 'lies' : 'lie'} elsewhere`,
    ];
  }
  if (groups.has('order')) return ['shapes and places are the same, and are cut in another order'];
  const words = groups.get('words') ?? [];
  const papers = words.filter(({ kind }) => kind === 'paper').length;
  const only = papers === 0 ? 'words' : papers === words.length ? 'papers' : 'words and papers';
  return [`shapes, places and order are the same: only ${only} differ`];
}

/** How much more or less cloth is taken, of the roll on which that differs most; none where only words differ. */
function lengthClauses(differences: readonly Difference[], [before, after]: Inputs): string[] {
  if (differences.every(({ kind }) => kind === 'words' || kind === 'paper')) return [];
  const differ = Object.entries(after.lays ?? {}).flatMap(([sheet, { length }]) => {
    const was = before.lays?.[sheet]?.length;
    return was === undefined || Math.abs(length - was) < 1 ? [] : [{ sheet, by: length - was }];
  });
  const [most] = differ.toSorted((a, b) => Math.abs(b.by) - Math.abs(a.by));
  if (most === undefined) return [];
  return [`${most.sheet} takes ${metresUp(Math.abs(most.by))} ${most.by < 0 ? 'less' : 'more'}`];
}
