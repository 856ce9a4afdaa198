import type { Path } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import type { Side } from '../pattern/words.ts';

/** The kinds of inputs that can be compared. */
export type InputKind = 'drawing' | 'program' | 'set' | 'run';

/** Something drawn in or on an item: a cutout, a notch, a mark. */
export interface Detail {
  /** Its layer or role. */
  readonly role: string;
  /** The name that is written beside it. Left out: it has none. */
  readonly name?: string;
  readonly path: Path;
  /** Left out: its ends mean something. true: it is a line of which only the run counts. */
  readonly isAxis?: true;
}

/** What the machine does while it cuts a stroke: mm, mm/min, degrees. */
export interface StrokeMoves {
  /** Where the knife is lowered. */
  readonly start: Point;
  /** Heights Z over the bed on the way to the stroke, and feeds of moves down and of turns on the spot. */
  readonly travels: readonly number[];
  readonly plunges: readonly number[];
  readonly turns: readonly number[];
  /** Height, feed and heading at the end of each move over the bed. */
  readonly heights: readonly number[];
  readonly feeds: readonly number[];
  readonly headings: readonly number[];
}

/**
 * One thing that is matched as a whole: a part, a piece, a stroke of the knife, a loose line. In mm, in
 * the frame of its sheet.
 */
export interface Item {
  /** Its name, by which it is matched first. null: it has none, and is matched by its shape. */
  readonly label: string | null;
  /**
   * What a person calls such a thing: part, piece, stroke, line. Only items with the same word are
   * matched.
   */
  readonly what: string;
  readonly side: Side | null;
  readonly outline: Path;
  readonly details: readonly Detail[];
  /** Its place in the order of cutting, from 0. null: the order means nothing. */
  readonly rank: number | null;
  /** Facts that are not geometry. */
  readonly words: Readonly<Record<string, string>>;
  /** The sheet of the picture in which it is shown, for example the roll of a run. */
  readonly sheet: string;
  /** The way its pile leans, degrees counter-clockwise from +x; left out: it has none, or words tell it. */
  readonly pileDeg?: number;
  /** For a stroke; left out for all else. */
  readonly moves?: StrokeMoves;
}

/** What a lay takes: mm, a share of 1, and how many bites. */
export interface ComparedLay {
  readonly length: number;
  readonly density: number;
  readonly bites: number;
}

/** What is compared of an input: geometry and words, without the format of its file. */
export interface Comparable {
  readonly kind: InputKind;
  readonly items: readonly Item[];
  /** Facts about the whole input, by their names. */
  readonly words: Readonly<Record<string, string>>;
  /** The files that it was made from, each with a hash of what it said. Left out: it is such a file itself. */
  readonly sources?: Readonly<Record<string, string>>;
  /** Loose texts: comments, messages, notes. Their order does not count. */
  readonly texts: readonly string[];
  /** The lays by the names of their sheets; left out: nothing lies on a roll. */
  readonly lays?: Readonly<Record<string, ComparedLay>>;
  /** The names of the orders; left out: the input has none. */
  readonly orders?: readonly string[];
  /** What of it cannot be compared as it should be, in sentences. */
  readonly limits?: readonly string[];
}

/** Whether two runs have not one order in common: then no part of the one is a part of the other. */
export function areStrangers(before: Comparable, after: Comparable): boolean {
  const [old, young] = [before.orders ?? [], after.orders ?? []];
  return old.length > 0 && young.length > 0 && !old.some((one) => young.includes(one));
}
