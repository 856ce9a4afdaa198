import type { Box } from '../geometry/paths/box.ts';
import type { Point } from '../geometry/paths/point.ts';
import { decimal } from '../base/numbers.ts';
import type { Item } from './comparable.ts';

/** What has become of a thing between two inputs. */
export type DifferenceKind =
  /** The programs are for another machine; the facts that differ are told in one message. */
  | 'machine'
  /** Everything is larger or smaller. */
  | 'scale'
  /** The proof withdrew a program, or what was withdrawn is there again. */
  | 'withdrawn'
  | 'removed'
  | 'added'
  | 'mirrored'
  | 'outline'
  | 'detail'
  | 'turned'
  | 'moved'
  /** Length, density or bites of a lay. */
  | 'lay'
  | 'order'
  | 'words'
  /** A file that people read, or that nobody knows. */
  | 'paper';

/** What makes one line of many differences, whatever the words of each. */
type Cause = 'renamed' | 'mirrored' | 'laid anew' | 'cut otherwise';

/** One difference between two inputs, as data. Lengths in mm, areas in mm2, in the frame of the sheet. */
export interface Difference {
  readonly kind: DifferenceKind;
  /** The sheet of the picture in which it is shown. null: it is about the whole input. */
  readonly sheet: string | null;
  /** The thing that it is about. null: the whole input, or the whole sheet. */
  readonly label: string | null;
  /** What several differences are due to that are told in one line though their words differ; null: only the same words are. */
  readonly cause: Cause | null;
  /** The file of a run folder that it is about; null: none alone. */
  readonly file: string | null;
  /** The difference in words, without the label. */
  readonly message: string;
  /** How many times it is there: as a feed that changes in many moves. */
  readonly times: number;
  /** The place where it is seen best; null: it has none. */
  readonly at: Point | null;
  /** The box round all of what differs, as it was and as it is; null where an enlargement shows nothing more. */
  readonly reach: Box | null;
  /** The thing as it was, brought to where it is now, and as it is: for an enlargement; null: it has none. */
  readonly pair: readonly [was: Item, is: Item] | null;
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
  Pick<
    Difference,
    'at' | 'reach' | 'distance' | 'turnDeg' | 'areaDifference' | 'fact' | 'times' | 'cause'
  >
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
    cause: null,
    file: null,
    message,
    times: 1,
    at: null,
    reach: null,
    pair: null,
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
  return `X ${decimal(x, 1)}, Y ${decimal(y, 1)}`;
}
