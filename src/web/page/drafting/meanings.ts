import type { Role } from '../../../pattern/layers.ts';

/** What a layer, or a thing, can mean: in the words of the bench. */
export const roleWords: Readonly<Record<Role, string>> = {
  OUTLINE: 'outline of a piece',
  CUTOUT: 'cutout',
  HOLE: 'hole, or a drill mark',
  NOTCH: 'notch',
  FOLD: 'fold line',
  STITCH: 'stitch line',
  MARK: 'mark',
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

const followsWords = {
  DRIVER: 'goes with the driver',
  PASSENGER: 'goes with the passenger',
  LEFT: 'stays on the left',
  RIGHT: 'stays on the right',
} as const;

/** A meaning in words: `hole, goes with the driver`. null: nothing says it yet. */
export function saidWords(means: string | null): string {
  if (means === null) return 'not said yet';
  const [role = '', ...words] = means.split('-');
  const said = roleWords[role as Role] ?? means;
  const follows = followsWords[words[0] as keyof typeof followsWords];
  const rest = (follows === undefined ? words : words.slice(1)).join(' ').toLowerCase();
  return [said, follows, rest].filter((one) => one !== undefined && one !== '').join(', ');
}

/** Meanings of things, in the order in which they are offered. */
export const meaningRoles: readonly Role[] = [
  'CUTOUT',
  'HOLE',
  'NOTCH',
  'FOLD',
  'STITCH',
  'MARK',
  'PAD',
  'PILE',
  'AXIS',
  'BOUND',
  'SEAM',
  'TUCK',
  'TURNED',
  'RAW',
  'NOTE',
  'OUTLINE',
];
