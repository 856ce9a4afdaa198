import type { Point } from '../geometry/paths/point.ts';
import { decimal } from '../base/numbers.ts';

/** What has become of a thing between two inputs, the gravest first. */
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
  /** The sheet of the picture in which it is shown. null: it is about the whole input. */
  readonly sheet: string | null;
  /** The thing that it is about. null: the whole input. */
  readonly label: string | null;
  /** The difference in words, without the label. */
  readonly message: string;
  /** The place where it is seen best; null: it has none. */
  readonly at: Point | null;
  /** How far something was moved or changed; null for all other kinds. */
  readonly distance: number | null;
  /** By how many degrees something was turned, counter-clockwise; null for all other kinds. */
  readonly turnDeg: number | null;
  /** For an outline that was changed: its area after minus its area before; otherwise null. */
  readonly areaDifference: number | null;
  /** For a fact that is not geometry: which it is. null for all other kinds, and for loose texts. */
  readonly fact: Fact | null;
}

/** A fact that differs. A value is left out where the fact is new or gone. */
export interface Fact {
  readonly name: string;
  readonly was?: string;
  readonly is?: string;
}

type Measures = Partial<
  Pick<Difference, 'at' | 'distance' | 'turnDeg' | 'areaDifference' | 'fact'>
>;

/** What a difference is about. */
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
    fact: null,
    ...facts,
  };
}

/** A length in words, in hundredths of a mm; with more digits if it is less than that. */
export function wordLength(length: number): string {
  return `${decimal(length, length < 0.01 ? 4 : 2)} mm`;
}

/** A point in words, mm. */
export function wordPoint({ x, y }: Point): string {
  return `${decimal(x, 1)}, ${decimal(y, 1)}`;
}

/** Sorted by kind, the gravest first. Differences of one kind keep their order. */
export function inOrder(differences: readonly Difference[]): Difference[] {
  const rank = ({ kind }: Difference): number => differenceKinds.indexOf(kind);
  return differences.toSorted((a, b) => rank(a) - rank(b));
}
