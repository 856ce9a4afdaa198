import type { Difference, Fact } from './difference.ts';

/**
 * What a difference matters for, the gravest first: what could hurt the machine or spoil cloth, then shapes, then
 * where and when things are cut, then words.
 */
const matters = ['machine', 'mirrored', 'parts', 'shapes', 'places', 'order', 'words'] as const;

export type Matter = (typeof matters)[number];

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

export function matterOf(one: Difference): Matter {
  switch (one.kind) {
    case 'removed':
    case 'added':
      return 'parts';
    case 'mirrored':
      return 'mirrored';
    case 'outline':
      // Nothing but other units makes everything larger.
      return one.label === null ? 'machine' : 'shapes';
    case 'detail':
      return 'shapes';
    case 'turned':
    case 'moved':
      return 'places';
    case 'order':
      return 'order';
    case 'words':
      return one.fact !== null && isOfMachine(one.fact) ? 'machine' : 'words';
  }
}

/** Facts of a cutter that no machine and no cloth feels. */
const harmless = /^cutter\.(?:price|dxf)/;

/** Facts, by the names that the readers give them, on which it hangs what the machine does to which cloth. */
const ofMachine: readonly RegExp[] = [
  /^cutter\./,
  /^units/,
  /^(?:height|feed|heading after move \d+)$/,
  /^(?:oscillation|stops|punch|waits)\b/,
  // Of a roll, and of a part: a part of another material is another part.
  /^roll .*\.(?:thickness|turns|gap|rollWidth|usableWidth|selvedge|startMargin|biteLength|joinOverlap)$/,
  /^(?:material|colour|hand|side|turns|tilt|pileDeg|pile runs)$/,
];

function isOfMachine({ name, was, is }: Fact): boolean {
  // Where a whole roll is new or gone, its parts tell of it.
  if (name.startsWith('roll ') && (was === undefined || is === undefined)) return false;
  return !harmless.test(name) && ofMachine.some((fact) => fact.test(name));
}
