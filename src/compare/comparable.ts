import type { Path } from '../geometry/paths/path.ts';
import type { Side } from '../pattern/words.ts';

/** What two inputs are that can be held against each other. */
export type InputKind = 'drawing' | 'program' | 'set' | 'run';

/** Something drawn in or on an item: a cutout, a notch, a mark. */
export interface Detail {
  /** The layer or the role it has. */
  readonly role: string;
  readonly path: Path;
}

/** One thing that is matched as a whole: a part, a piece, a stroke of the knife, a loose line. Frame of its sheet, mm. */
export interface Item {
  /** Its name, by which it is matched first; null: it has none and is matched by its shape. */
  readonly label: string | null;
  /** What it is to a person: part, piece, stroke, line. Only like is matched with like. */
  readonly what: string;
  readonly side: Side | null;
  readonly outline: Path;
  readonly details: readonly Detail[];
  /** Which it is in the order of cutting, from 0; null where the order means nothing. */
  readonly rank: number | null;
  /** Facts that are no geometry. */
  readonly words: Readonly<Record<string, string>>;
  /** Which picture it stands in: the roll of a run. */
  readonly sheet: string;
}

/** An input as far as it is compared: geometry and words, in no format. */
export interface Comparable {
  readonly kind: InputKind;
  readonly items: readonly Item[];
  /** Facts of the whole by what they are called. */
  readonly words: Readonly<Record<string, string>>;
  /** Loose texts: comments, messages, notes. Their order does not count. */
  readonly texts: readonly string[];
}
