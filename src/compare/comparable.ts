import type { Path } from '../geometry/paths/path.ts';
import type { Side } from '../pattern/words.ts';

/** The kinds of inputs that can be compared. */
export type InputKind = 'drawing' | 'program' | 'set' | 'run';

/** Something drawn in or on an item: a cutout, a notch, a mark. */
export interface Detail {
  /** Its layer or role. */
  readonly role: string;
  readonly path: Path;
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
}

/** What is compared of an input: geometry and words, without the format of its file. */
export interface Comparable {
  readonly kind: InputKind;
  readonly items: readonly Item[];
  /** Facts about the whole input, by their names. */
  readonly words: Readonly<Record<string, string>>;
  /** Loose texts: comments, messages, notes. Their order does not count. */
  readonly texts: readonly string[];
  /** How much of each roll is taken, mm, by the names of its sheets; left out: nothing lies on a roll. */
  readonly lengths?: Readonly<Record<string, number>>;
}
