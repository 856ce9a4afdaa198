import type { Finding } from '../../base/findings.ts';
import type { Order } from '../../handing/order.ts';
import type { Hand, Turns } from '../../pattern/words.ts';
import type { RunSheet } from '../../run/run-file.ts';

/** Everything there is to choose from. */
export interface Shop {
  readonly sets: readonly SetCard[];
  readonly materials: readonly MaterialCard[];
  readonly cutters: readonly { readonly name: string; readonly title: string }[];
  readonly labels: readonly string[];
  readonly runs: readonly RunCard[];
  /** Rolls of the shop by their material. */
  readonly stock: RunSheet['rolls'];
  /** What could not be read, in words. */
  readonly findings: readonly Finding[];
}

export interface SetCard {
  readonly name: string;
  readonly title: string;
  readonly drawn: Hand;
  readonly pieces: number;
  /** Colours that its tape is kept in; null where any will do. */
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

/** A run file, a run folder, or both. */
export interface RunCard {
  readonly name: string;
  readonly title: string;
  /** Of its run file; null where there is none, as of a recut. */
  readonly orders: readonly Order[] | null;
  /** Of its run file; null where there is none. */
  readonly cutter: string | null;
  /** Whether the search has laid parts in its run file. */
  readonly isLaid: boolean;
  readonly folder: FolderCard | null;
  /** Last change of file or folder, ISO 8601. */
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
