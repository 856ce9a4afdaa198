import type { Point } from '../geometry/paths/point.ts';
import { decimal } from '../base/numbers.ts';

/** What became of a thing between two inputs, the gravest first. */
const differenceKinds = [
  'removed',
  'added',
  'mirrored',
  'outline',
  'detail',
  'turned',
  'moved',
  'order',
  'words',
] as const;

export type DifferenceKind = (typeof differenceKinds)[number];

/** One difference between two inputs, as data. Lengths in mm, areas in mm2, in the frame of the sheet. */
export interface Difference {
  readonly kind: DifferenceKind;
  /** The picture it stands in; null: it concerns the whole. */
  readonly sheet: string | null;
  /** What it concerns; null: the whole. */
  readonly label: string | null;
  /** In words, without the label. */
  readonly message: string;
  /** The place where it is seen best. */
  readonly at: Point | null;
  /** How far, for what was moved or changed. */
  readonly distance: number | null;
  /** Degrees counter-clockwise, for what was turned. */
  readonly turnDeg: number | null;
  /** After less before, for an outline that was changed. */
  readonly areaDifference: number | null;
}

type Measures = Partial<Pick<Difference, 'at' | 'distance' | 'turnDeg' | 'areaDifference'>>;

/** What a difference concerns. */
export type Subject = Pick<Difference, 'sheet' | 'label'>;

export const theWhole: Subject = { sheet: null, label: null };

export function difference(
  kind: DifferenceKind,
  { sheet, label }: Subject,
  message: string,
  facts: Measures = {},
): Difference {
  return {
    kind,
    sheet,
    label,
    message,
    at: null,
    distance: null,
    turnDeg: null,
    areaDifference: null,
    ...facts,
  };
}

/** A length for a person: hundredths of a mm, and more where it is less than that. */
export function wordLength(length: number): string {
  return `${decimal(length, length < 0.01 ? 4 : 2)} mm`;
}

export function wordPoint({ x, y }: Point): string {
  return `${decimal(x, 1)}, ${decimal(y, 1)}`;
}

/** The gravest kinds first, within a kind as they came. */
export function inOrder(differences: readonly Difference[]): Difference[] {
  const rank = ({ kind }: Difference): number => differenceKinds.indexOf(kind);
  return differences.toSorted((a, b) => rank(a) - rank(b));
}
