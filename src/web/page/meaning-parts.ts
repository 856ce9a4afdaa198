import type { followsWords } from '../../pattern/layers.ts';

/** What a thing goes with when the hand of drive changes; '': nothing is said. */
type Follow = (typeof followsWords)[number] | '';

/** The parts of ROLE-FOLLOWS-WITH-OPTION. */
export interface MeaningParts {
  readonly role: string;
  readonly follow: Follow;
  /** What stands behind, about options. */
  readonly rest: string;
}

const known: readonly Follow[] = ['DRIVER', 'PASSENGER', 'LEFT', 'RIGHT'];

export function partsOf(means: string): MeaningParts {
  const [role = '', second = '', ...others] = means.split('-');
  const follow = known.find((one) => one === second) ?? '';
  const rest = follow === '' ? [second, ...others] : others;
  return { role, follow, rest: rest.filter(Boolean).join('-') };
}

export function meaningFrom({ role, follow, rest }: MeaningParts): string {
  return [role, follow, rest].filter((one) => one !== '').join('-');
}
