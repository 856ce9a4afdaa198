import { shownNames } from '../base/wording.ts';
import type { Comparison } from './compare.ts';
import type { Difference } from './difference.ts';

/** The name of each kind of difference in a table. */
const verdicts: Readonly<Record<Difference['kind'], string>> = {
  removed: 'GONE',
  added: 'NEW',
  mirrored: 'MIRRORED',
  outline: 'OUTLINE',
  detail: 'INSIDE',
  turned: 'TURNED',
  moved: 'MOVED',
  order: 'ORDER',
  words: 'WORDS',
};

/** The differences in words: one row for all things that differ in the same way, the gravest first. */
export function comparisonRows({
  differences,
}: Pick<Comparison, 'differences'>): [what: string, where: string, words: string][] {
  return alike(differences).map((group) => [
    verdicts[group[0]!.kind],
    placesOf(group),
    group[0]!.message,
  ]);
}

/** A comparison as lines of text: a table of the differences, the gravest first, and a summary. */
export function comparisonLines({
  before,
  after,
  kind,
  tolerance,
  sameBytes,
  differences,
}: Comparison): string[] {
  if (sameBytes) return [`${before} and ${after} are equal, byte for byte.`];
  if (differences.length === 0) {
    return [
      `${before} and ${after} are equal as ${kind}s: geometry to ${tolerance} mm, and words.`,
    ];
  }
  const rows = comparisonRows({ differences });
  const width = (column: number): number =>
    Math.min(60, Math.max(...rows.map((row) => row[column]!.length)));
  const counts = Object.entries(verdicts).flatMap(([of, words]) => {
    const count = differences.filter((one) => one.kind === of).length;
    return count === 0 ? [] : [`${count} ${words.toLowerCase()}`];
  });
  return [
    ...rows.map(
      ([verdict, place, message]) =>
        `${verdict!.padEnd(width(0))}  ${place!.padEnd(width(1))}  ${message}`,
    ),
    `${before} and ${after} differ: ${counts.join(', ')}; geometry to ${tolerance} mm.`,
  ];
}

/**
 * Groups differences that say the same about several things. A group stands where its first difference
 * stands.
 */
function alike(differences: readonly Difference[]): Difference[][] {
  const groups = new Map<string, Difference[]>();
  for (const one of differences) {
    const key = JSON.stringify([one.kind, one.sheet, one.label === null, one.message]);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [one]);
    else group.push(one);
  }
  return [...groups.values()];
}

/** A row lists so many names; the others are counted. */
const named = 3;

function placesOf(group: readonly Difference[]): string {
  return shownNames([...new Set(group.map(placeOf))], named);
}

function placeOf({ sheet, label }: Difference): string {
  if (label !== null) return label;
  return sheet === null || sheet === '' ? 'the whole' : sheet;
}
