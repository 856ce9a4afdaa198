import type { Role } from '../../pattern/layers.ts';
import type { MeaningParts } from './meaning-parts.ts';
import { partsOf } from './meaning-parts.ts';

/** What a layer, or a thing, can mean: in the words of the bench. */
export const roleWords: Readonly<Record<Role, string>> = {
  OUTLINE: 'outline of a piece',
  CUTOUT: 'cutout',
  HOLE: 'hole, or a drill mark',
  NOTCH: 'notch',
  FOLD: 'fold line',
  STITCH: 'stitch line',
  MARK: 'mark, never cut',
  PAD: 'heel pad',
  PILE: 'pile arrow',
  AXIS: 'vehicle’s centreline',
  BOUND: 'edge: bound',
  SEAM: 'edge: sewn',
  TUCK: 'edge: tucked',
  TURNED: 'edge: turned under',
  RAW: 'edge: left raw',
  NOTE: 'only to be read',
};

export const roles = Object.keys(roleWords) as readonly Role[];

/** What a layer or a thing goes with when the hand of drive changes. */
export const followWords: Readonly<Record<MeaningParts['follow'], string>> = {
  '': 'goes with the piece',
  DRIVER: 'goes with the driver',
  PASSENGER: 'goes with the passenger',
  LEFT: 'stays on the left',
  RIGHT: 'stays on the right',
};

/** A meaning in words: `hole, or a drill mark, goes with the driver`. null: nothing says it yet. */
export function saidWords(means: string | null): string {
  if (means === null) return 'not said yet';
  const { role, follow, rest } = partsOf(means);
  const words = [
    roleWords[role as Role] ?? role,
    follow === '' ? '' : followWords[follow],
    rest.replaceAll('-', ' ').toLowerCase(),
  ];
  return words.filter((one) => one !== '').join(', ');
}

/** Meanings of things, in the order in which they are offered: few are the outline of a piece. */
export const meaningRoles: readonly Role[] = roles.toSorted(
  (a, b) => Number(a === 'OUTLINE') - Number(b === 'OUTLINE'),
);
