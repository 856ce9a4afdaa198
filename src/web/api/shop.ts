import type { Finding } from '../../base/findings.ts';
import type { Order } from '../../handing/order.ts';
import type { OptionValue } from '../../pattern/conditions.ts';
import type { PieceEntry } from '../../pattern/set-file.ts';
import type { Hand, Turns, Use } from '../../pattern/words.ts';
import type { RunContent } from '../../run/run-file.ts';
import type { CuttingCard } from './cut-steps.ts';

/** Everything that the workshop has to choose from. */
export interface Shop {
  readonly sets: readonly SetCard[];
  readonly materials: readonly MaterialCard[];
  readonly cutters: readonly { readonly name: string; readonly title: string }[];
  readonly finishes: readonly FinishCard[];
  readonly labels: readonly string[];
  readonly runs: readonly RunCard[];
  /** The rolls that the shop has, by their material. */
  readonly stock: RunContent['rolls'];
  /** What could not be read, and so is not in the lists above. */
  readonly findings: readonly Finding[];
}

export interface SetCard {
  readonly name: string;
  readonly title: string;
  readonly drawn: Hand;
  /** The names of its pieces. */
  readonly pieces: readonly string[];
  /** Names that stand for several pieces. */
  readonly groups: Readonly<Record<string, readonly string[]>>;
  readonly options: readonly OptionCard[];
  readonly materials: Readonly<Record<Use, MaterialsOfUse>>;
  /** How its edges are finished, where an order says nothing: a name; null where it says nothing. */
  readonly finish: string | null;
  /** The colours that the set's tape is kept in; null where any colour will do. */
  readonly colours: readonly string[] | null;
  /** The pieces that have heel pads, with the side that each is on. */
  readonly pads: readonly { readonly piece: string; readonly side: PieceEntry['side'] }[];
  readonly hasBoards: boolean;
  readonly hasUnderlay: boolean;
}

/** What a set is cut from for one use, by the names of materials. */
interface MaterialsOfUse {
  /** The usual one, instead of which an order may choose another; null: it may not. */
  readonly usual: string | null;
  /** Those that pieces name themselves, whatever an order chooses. */
  readonly fixed: readonly string[];
}

/** Something that vehicles of a set may have. */
export interface OptionCard {
  readonly name: string;
  readonly words: string;
  /** null: it is there, or it is not. */
  readonly values: readonly string[] | null;
  /** What it is where an order says nothing. */
  readonly usual: OptionValue;
}

/** A way of finishing edges. */
interface FinishCard {
  readonly name: string;
  readonly title: string;
  /** null: any colour will do. */
  readonly colours: readonly string[] | null;
}

export interface MaterialCard {
  readonly name: string;
  readonly title: string;
  readonly kind: string;
  /** What an order may choose it for. */
  readonly uses: readonly Use[];
  /** The colours that it is kept in, with how each looks; null: it has none. */
  readonly colours: readonly { readonly name: string; readonly sample: string }[] | null;
  readonly thickness: number;
  readonly turns: Turns;
  readonly gap: number;
  readonly width: number;
  readonly selvedge: number;
  readonly startMargin: number;
  readonly length: number | null;
}

/** A run: its run file (patterns/<run>.yaml), its run folder (out/<run>), or both. */
export interface RunCard {
  readonly name: string;
  readonly title: string;
  /** The orders of its run file; null where it has none, as a recut, or cannot be read. */
  readonly orders: readonly Order[] | null;
  /** The cutter that its run file names; null where it has none. */
  readonly cutter: string | null;
  /** Whether the run file has parts that a search has laid. */
  readonly isLaid: boolean;
  readonly folder: FolderCard | null;
  /** How far its files are cut, as it was ticked: only what was cut of the files as they are now. */
  readonly cutting: CuttingCard;
  /** Why its run file cannot be read. */
  readonly findings: readonly Finding[];
  /** When its file or folder was last changed, ISO 8601. */
  readonly changed: string;
}

export interface FolderCard {
  readonly fingerprint: string;
  readonly recutOf: string | null;
  readonly parts: number;
  readonly lays: readonly {
    readonly name: string;
    readonly length: number;
    readonly density: number;
    readonly bites: number;
  }[];
}
