import type { Role } from '../../../../pattern/layers.ts';
import { partsOf } from '../../meaning-parts.ts';

/** What can be on a layer, in the words of a workshop. */
interface Meaning {
  readonly role: Role;
  readonly words: string;
}

export const meanings: readonly Meaning[] = [
  { role: 'OUTLINE', words: 'Outline of pieces' },
  { role: 'CUTOUT', words: 'Cut out inside' },
  { role: 'HOLE', words: 'Hole or drill mark' },
  { role: 'NOTCH', words: 'Notch' },
  { role: 'FOLD', words: 'Fold line' },
  { role: 'STITCH', words: 'Stitch line' },
  { role: 'MARK', words: 'Mark: shown, never cut' },
  { role: 'PAD', words: 'Heel pad' },
  { role: 'BOUND', words: 'Edge: bound' },
  { role: 'SEAM', words: 'Edge: sewn' },
  { role: 'TUCK', words: 'Edge: tucked under' },
  { role: 'TURNED', words: 'Edge: turned back' },
  { role: 'RAW', words: 'Edge: left raw' },
  { role: 'PILE', words: 'Pile arrow' },
  { role: 'AXIS', words: 'Centreline of the vehicle' },
  { role: 'NOTE', words: 'Only to be read' },
];

/** What a thing can go with when the hand of drive changes. */
export const follows = [
  { value: '', words: 'goes with the piece' },
  { value: 'DRIVER', words: 'goes with the driver' },
  { value: 'PASSENGER', words: 'goes with the passenger' },
  { value: 'LEFT', words: 'stays on the left' },
  { value: 'RIGHT', words: 'stays on the right' },
] as const;

/** What a layer means, in words: `Cut out inside, goes with the driver`. */
export function meaningWords(means: string): string {
  const { role, follow, rest } = partsOf(means);
  const words = [
    meanings.find((one) => one.role === role)?.words ?? role,
    ...(follow === '' ? [] : [follows.find(({ value }) => value === follow)!.words]),
    ...(rest === '' ? [] : [rest.toLowerCase().replaceAll('-', ' ')]),
  ];
  return words.join(', ');
}

/** Two lengths in mm, and in inches: `1,780 by 640 mm (70.1 by 25.2 in)`. */
export function sizeWords([width, height]: readonly [number, number]): string {
  return `${figure(width, 0)} by ${figure(height, 0)} mm (${figure(width / 25.4, 1)} by ${figure(height / 25.4, 1)} in)`;
}

/** A number with its thousands set apart. */
export function figure(value: number, decimals: number): string {
  return value.toLocaleString('en-GB', {
    minimumFractionDigits: decimals,
    maximumFractionDigits: decimals,
  });
}
