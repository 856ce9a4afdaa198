import type { Finding } from '../../base/findings.ts';
import type { Order } from '../../handing/order.ts';
import type { Hand, Turns } from '../../pattern/words.ts';
import type { RunContent } from '../../run/run-file.ts';

/** Everything that the workshop has to choose from. */
export interface Shop {
  readonly sets: readonly SetCard[];
  readonly materials: readonly MaterialCard[];
  readonly cutters: readonly { readonly name: string; readonly title: string }[];
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
  readonly pieces: number;
  /** The colours that the set's tape is kept in; null where any colour will do. */
  readonly colours: readonly string[] | null;
  readonly hasPads: boolean;
  readonly hasBoards: boolean;
  readonly hasUnderlay: boolean;
}

export interface MaterialCard {
  readonly name: string;
  readonly title: string;
  readonly kind: string;
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
  /** The orders of its run file; null where it has none, as a recut. */
  readonly orders: readonly Order[] | null;
  /** The cutter that its run file names; null where it has none. */
  readonly cutter: string | null;
  /** Whether the run file has parts that a search has laid. */
  readonly isLaid: boolean;
  readonly folder: FolderCard | null;
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
  }[];
}
