import type { Finding } from '../../base/findings.ts';
import type { CutState } from './files.ts';
import type { SearchState } from './lay.ts';
import type { PicturedLay } from './pictured.ts';

/**
 * What the server tells of a run while somebody looks on. Each is one server-sent event, named by its
 * `kind`.
 */
export type RunEvent =
  | ({ readonly kind: 'search' } & SearchState)
  /** The search has found a shorter lay. */
  | ({ readonly kind: 'lay' } & PicturedLay)
  /**
   * What the search is just trying. `places` has three numbers (x, y and rotation) for each of the
   * `labels`.
   */
  | {
      readonly kind: 'trying';
      readonly material: string;
      readonly colour: string | null;
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
  /** The making of the run's files has begun or is over. */
  | ({ readonly kind: 'cut' } & CutState)
  /** A step of the cutting was ticked, or its tick taken back, here or in another window. */
  | { readonly kind: 'ticked' };
