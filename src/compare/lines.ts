import { decimal } from '../base/numbers.ts';
import { counted, shownNames } from '../base/wording.ts';
import type { Difference } from './difference.ts';
import type { Matter } from './ranks.ts';
import { byMatter, matterTitles } from './ranks.ts';

/** What a person reads of differences that have one cause. */
export interface Line {
  readonly what: string;
  readonly where: string;
  readonly words: string;
  readonly differences: readonly Difference[];
}

/** The lines of one rank. */
export interface Rank {
  readonly matter: Matter;
  readonly heading: string;
  /** How many differences there are in it. */
  readonly count: number;
  readonly lines: readonly Line[];
}

/** The name of each kind of difference in a table. */
const verdicts: Readonly<Record<Difference['kind'], string>> = {
  machine: 'MACHINE',
  scale: 'SCALE',
  withdrawn: 'WITHDRAWN',
  removed: 'GONE',
  added: 'NEW',
  mirrored: 'MIRRORED',
  outline: 'OUTLINE',
  detail: 'INSIDE',
  turned: 'TURNED',
  moved: 'MOVED',
  lay: 'LAY',
  order: 'ORDER',
  words: 'WORDS',
  paper: 'PAPER',
};

/** What a difference is called in a table: a value of something is more than words. */
export function verdictWord({ kind, fact }: Difference): string {
  return kind === 'words' && fact !== null ? 'VALUE' : verdicts[kind];
}

/** The differences in ranks, the gravest first, one line for one cause. */
export function ranksOf(differences: readonly Difference[]): Rank[] {
  const told = laidAnew(differences);
  return byMatter(told).map(({ matter, differences: own }) => ({
    matter,
    heading: matterTitles[matter],
    count: own.length,
    lines: groupsOf(own).map(lineOf),
  }));
}

/** So many things of one roll that have each moved in their own way were laid anew: that is one cause. */
export const manyMoves = 12;

function laidAnew(differences: readonly Difference[]): Difference[] {
  const isMove = ({ kind, label }: Difference): boolean =>
    label !== null && (kind === 'moved' || kind === 'turned');
  const counts = new Map<string | null, number>();
  for (const one of differences) {
    if (isMove(one)) counts.set(one.sheet, (counts.get(one.sheet) ?? 0) + 1);
  }
  return differences.map((one) =>
    isMove(one) && counts.get(one.sheet)! > manyMoves ? { ...one, cause: 'laid anew' } : one,
  );
}

/** Differences of one cause. A group stands where its first difference stands. */
function groupsOf(differences: readonly Difference[]): Difference[][] {
  const groups = new Map<string, Difference[]>();
  for (const one of differences) {
    const key = causeKey(one);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [one]);
    else group.push(one);
  }
  return [...groups.values()];
}

function causeKey({ cause, kind, sheet, label, message, fact }: Difference): string {
  if (cause !== null) {
    // A notch is cut otherwise for another reason than an outline.
    const part = cause === 'cut otherwise' ? / (\w+)$/.exec(label ?? '')?.[1] : undefined;
    return JSON.stringify([cause, cause === 'laid anew' ? sheet : null, part]);
  }
  if (fact !== null) return JSON.stringify([kind, message]);
  const isAnywhere =
    kind === 'removed' || kind === 'added' || kind === 'paper' || kind === 'outline';
  return JSON.stringify([kind, isAnywhere ? null : sheet, label === null, message]);
}

function lineOf(group: readonly Difference[]): Line {
  const [first] = group;
  return {
    what: verdictWord(first!),
    where: placesOf(group),
    words: wordsOf(group),
    differences: group,
  };
}

/** Facts of single moves: in how many it is so is said. */
const ofMoves = new Set([
  'height',
  'feed',
  'travel height',
  'plunge feed',
  'turning feed',
  'heading',
]);

function wordsOf(group: readonly Difference[]): string {
  const [first] = group as [Difference, ...Difference[]];
  const times = group.reduce((sum, one) => sum + one.times, 0);
  const messages = new Set(group.map(({ message }) => message));
  if (messages.size === 1 || first.cause === null) {
    const isCounted = times > 1 && first.fact !== null && ofMoves.has(first.fact.name);
    if (isCounted) return `${first.message.replace(/\.$/, '')}, ${times} times.`;
    return new Set(group.map(placeOf)).size > 1 ? inPlural(first.message) : first.message;
  }
  const most = Math.max(...group.map(({ distance }) => distance ?? 0));
  switch (first.cause) {
    case 'mirrored':
      return 'are mirrored: now the other hand.';
    case 'renamed':
      return `are called otherwise: the first ${first.message.replace(/^is /, '')}`;
    case 'laid anew': {
      const turned = group.filter(({ kind }) => kind === 'turned').length;
      const also = turned === 0 ? '' : `, ${turned} of them turned`;
      return `${counted(group.length, 'thing')} lie elsewhere, each moved by itself${also}; by ${decimal(most, 0)} mm at most.`;
    }
    case 'cut otherwise':
      return `are cut otherwise: ${decimal(most, 2)} mm off at most.`;
  }
}

/** A message about one thing, for several: `are gone` for `is gone`. */
function inPlural(message: string): string {
  return message
    .replace(/^is /, 'are ')
    .replace(/^has /, 'have ')
    .replace(/^lies /, 'lie ')
    .replace(/^was cut; it is not now/, 'were cut; they are not now')
    .replace(/cut now; it was not/, 'cut now; they were not');
}

/** A row lists so many names; the others are counted. */
const named = 3;

function placesOf(group: readonly Difference[]): string {
  const places = [...new Set(group.map(placeOf))];
  const files = [...new Set(group.flatMap(({ file }) => file ?? []))];
  if (group[0]!.cause === 'cut otherwise') {
    const labels = [...new Set(group.flatMap(({ label }) => label ?? []))];
    return `${shownNames(labels, named)}${files.length === 0 ? '' : ` (${shownNames(files, named)})`}`;
  }
  // A change in many programs is told by the files, not by each stroke.
  if (places.length > named && files.length > 0) return shownNames(files, 4);
  const anew = group[0]!.cause === 'laid anew' ? group[0]!.sheet : null;
  return anew !== null && anew !== '' ? anew : shownNames(places, named);
}

function placeOf({ sheet, label, file }: Difference): string {
  const own = label ?? (sheet === null || sheet === '' ? null : sheet);
  if (file === null) return own ?? 'the whole';
  return own === null ? file : `${file}: ${own}`;
}
