import type { Difference, Fact } from './difference.ts';

/**
 * What a difference matters for, the gravest first: what could hurt the machine or spoil cloth, then shapes, then
 * where and when things are cut, then words.
 */
const matters = ['machine', 'mirrored', 'parts', 'shapes', 'places', 'order', 'words'] as const;

export type Matter = (typeof matters)[number];

/** What each rank is called. */
export const matterTitles: Readonly<Record<Matter, string>> = {
  machine: 'Machine and cloth',
  mirrored: 'Mirrored',
  parts: 'Gone and new',
  shapes: 'Shapes',
  places: 'Places',
  order: 'Order of cutting',
  words: 'Words and papers',
};

/** Differences that matter for the same. */
export interface MatterGroup {
  readonly matter: Matter;
  readonly differences: readonly Difference[];
}

/** The differences by what they matter for, the gravest first. Those of one group keep their order. */
export function byMatter(differences: readonly Difference[]): MatterGroup[] {
  return matters.flatMap((matter) => {
    const own = differences.filter((one) => matterOf(one) === matter);
    return own.length === 0 ? [] : [{ matter, differences: own }];
  });
}

/** The differences, the gravest first. Those of one rank keep their order. */
export function inRanks(differences: readonly Difference[]): Difference[] {
  return byMatter(differences).flatMap((group) => group.differences);
}

export function matterOf(one: Difference): Matter {
  switch (one.kind) {
    case 'machine':
    case 'scale':
    case 'withdrawn':
      return 'machine';
    case 'removed':
    case 'added':
      return 'parts';
    case 'mirrored':
      return 'mirrored';
    case 'outline':
    case 'detail':
      return 'shapes';
    case 'turned':
    case 'moved':
    case 'lay':
      return 'places';
    case 'order':
      return 'order';
    case 'paper':
      return 'words';
    case 'words':
      return one.fact === null ? 'words' : matterOfFact(one.fact);
  }
}

/** Facts of a cutter that no machine and no cloth feels. */
const harmless = /^cutter\.(?:price|dxf|title|motion)/;

/** Facts, by the names that the readers give them, on which it hangs what the machine does to which cloth. */
const ofMachine: readonly RegExp[] = [
  /^cutter\./,
  /^units/,
  /^(?:face|modes|knife|machine|program kind)$/,
  /^(?:height|feed|travel height|plunge feed|turning feed|heading)$/,
  /^(?:oscillation on|oscillation off|stops|punched|waits)$/,
  // Of a roll, and of a part: a part of another material is another part.
  /^roll .*\.(?:thickness|turns|gap|rollWidth|usableWidth|selvedge|startMargin|biteLength|joinOverlap)$/,
  /^(?:drawn|material|colour|hand|side|turns|tilt|pileDeg|pile runs)$/,
  // Of a set and its pieces: what is cut, how often, for which hand, and which way its pile lies.
  /^(?:pile|edge|outline|drawnSide|half|only|quantity|at\.\d|block|notch)$/,
  /^seams\b/,
  /^(?:board|underlay)\.(?:material|inset|wraps)$/,
];

/** An order or a roll that only one of the two has. */
const wholeThing = /^(?:order|roll) [^.]+$/;

function matterOfFact({ name, was, is }: Fact): Matter {
  const isAlone = was === undefined || is === undefined;
  if (isAlone && wholeThing.test(name)) return 'parts';
  // Where a whole roll is new or gone, its parts tell of it.
  if (isAlone && name.startsWith('roll ')) return 'words';
  return !harmless.test(name) && ofMachine.some((fact) => fact.test(name)) ? 'machine' : 'words';
}
