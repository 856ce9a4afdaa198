import { partsOf } from '../../meaning-parts.ts';

/** What can be on a layer, in the words of a workshop. */
interface Meaning {
  readonly role: string;
  readonly words: string;
  /** Whether it can go with a person or a side of the vehicle. */
  readonly canFollow: boolean;
}

export const meanings: readonly Meaning[] = [
  { role: 'OUTLINE', words: 'Outline of pieces', canFollow: false },
  { role: 'CUTOUT', words: 'Cut out inside', canFollow: true },
  { role: 'HOLE', words: 'Hole or drill mark', canFollow: true },
  { role: 'NOTCH', words: 'Notch', canFollow: true },
  { role: 'FOLD', words: 'Fold line', canFollow: true },
  { role: 'STITCH', words: 'Stitch line', canFollow: true },
  { role: 'MARK', words: 'Mark: shown, never cut', canFollow: true },
  { role: 'PAD', words: 'Heel pad', canFollow: true },
  { role: 'BOUND', words: 'Edge: bound', canFollow: true },
  { role: 'SEAM', words: 'Edge: sewn', canFollow: true },
  { role: 'TUCK', words: 'Edge: tucked under', canFollow: true },
  { role: 'TURNED', words: 'Edge: turned back', canFollow: true },
  { role: 'RAW', words: 'Edge: left raw', canFollow: true },
  { role: 'PILE', words: 'Pile arrow', canFollow: false },
  { role: 'AXIS', words: 'Centreline of the vehicle', canFollow: false },
  { role: 'NOTE', words: 'Only to be read', canFollow: false },
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

export function canFollow(role: string): boolean {
  return meanings.find((one) => one.role === role)?.canFollow ?? false;
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
