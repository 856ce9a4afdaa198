import type { Finding } from '../../base/findings.ts';
import type { CutState } from './files.ts';
import type { SearchState } from './lay.ts';
import type { PicturedLay } from './pictured.ts';

/** What the server tells of a run while somebody looks on: one server-sent event each, named by `kind`. */
export type RunEvent =
  | ({ readonly kind: 'search' } & SearchState)
  /** A shorter lay. */
  | ({ readonly kind: 'lay' } & PicturedLay)
  /** What is being tried: x, y, rotation, x, y, rotation ... of `labels`. */
  | {
      readonly kind: 'trying';
      readonly material: string;
      readonly roll: string | null;
      readonly labels: readonly string[];
      readonly places: readonly number[];
    }
  /** A search is over; its lays are saved in the run file. */
  | {
      readonly kind: 'laid';
      readonly findings: readonly Finding[];
      readonly version: string | null;
    }
  /** The run file has been saved, here or in another window. */
  | { readonly kind: 'saved'; readonly version: string }
  /** Files are written and proven, or refused. */
  | ({ readonly kind: 'cut' } & CutState);
