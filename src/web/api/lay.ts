import type { Finding } from '../../base/findings.ts';
import type { PicturedLay, PicturedPart, PicturedRoll } from './pictured.ts';

/** All that the lay's view needs of a run. */
export interface LayTable {
  readonly run: string;
  readonly title: string;
  readonly version: string;
  readonly parts: readonly PicturedPart[];
  readonly rolls: readonly PicturedRoll[];
  /** Lays that are known, none for what was never laid. */
  readonly lays: readonly PicturedLay[];
  readonly findings: readonly Finding[];
  /** Why parts may no longer lie where they lie. */
  readonly faults: readonly Finding[];
  readonly search: SearchState | null;
  /** Whether the lays are found and could not be written into the run file. */
  readonly isUnsaved: boolean;
}

/** A search that is under way. */
export interface SearchState {
  readonly material: string;
  /** Of the materials that are to be laid. */
  readonly number: number;
  readonly of: number;
  readonly elapsed: number;
  /** Seconds that are left for all materials. */
  readonly left: number;
}

/** A part that is moved by hand, or let go. */
export interface PartMove {
  readonly version: string;
  readonly material: string;
  readonly roll: string | null;
  readonly label: string;
  /** null: the pin is taken out and the part lies where it lies. */
  readonly to: { readonly x: number; readonly y: number; readonly rotation: number } | null;
  /** Only asked whether it could lie there. */
  readonly dry: boolean;
}

export interface PartMoved {
  /** Why it may not lie there; none: it may, and unless asked only, does. */
  readonly findings: readonly Finding[];
  /** Where it lies well within a few mm of there; null: nowhere near. */
  readonly near: { readonly x: number; readonly y: number; readonly rotation: number } | null;
  readonly version: string;
}
