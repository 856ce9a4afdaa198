/** What the server and the page say to each other: plain data, mm and degrees, no code. */
import type { Finding } from '../../base/findings.ts';
import type { Order } from '../../handing/order.ts';
import type { Hand, Side, Turns } from '../../pattern/words.ts';
import type { RollSheet, RunSheet } from '../../run/run-file.ts';

export type { Finding, Order, RollSheet, RunSheet };

/** Where a part lies: see `Placement` of the lay. */
export interface Placed {
  readonly label: string;
  readonly x: number;
  readonly y: number;
  readonly rotation: number;
}

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

/** A run file as it stands on the disk. */
export interface RunFile {
  readonly name: string;
  readonly sheet: RunSheet;
  /** Of its text: whoever saves says what it began with. */
  readonly version: string;
}

/** One shape of a plan, mm in the vehicle: +x to its right, +y forward; `d` is SVG path data. */
export interface PlanShape {
  readonly name: string;
  /** The outline and what is cut out of it. */
  readonly d: string;
  /** Fold, stitch and mark lines. */
  readonly lines: string;
  readonly kind: 'piece' | 'pad' | 'mark';
  readonly moved: boolean;
  /** There for one hand only. */
  readonly alone: boolean;
}

export interface Plan {
  readonly drawn: Hand;
  readonly hand: Hand;
  /** The set as drawn and as ordered, largest shapes first. */
  readonly before: readonly PlanShape[];
  readonly after: readonly PlanShape[];
  /** minX, minY, maxX, maxY of both. */
  readonly box: readonly [number, number, number, number];
  /** What moved and why, a line each. */
  readonly changes: readonly {
    readonly what: string;
    /** Side and middle, in words. */
    readonly from: string;
    readonly to: string;
    readonly why: string;
  }[];
  readonly parts: readonly PlanPart[];
  readonly findings: readonly Finding[];
}

/** A part of one set of the order. */
export interface PlanPart {
  readonly name: string;
  readonly kind: string;
  readonly side: Side | null;
  readonly material: string;
  /** Name of its piece as it stands in the plan. */
  readonly piece: string;
  /** Where its middle is in the plan. */
  readonly at: readonly [number, number];
}

/** What `check` finds on a set, piece by piece. */
export interface SetCheck {
  readonly name: string;
  readonly title: string;
  readonly total: string;
  readonly groups: readonly {
    /** null: the set as a whole. */
    readonly piece: string | null;
    /** The piece with its findings ringed, as an SVG; null where there is none. */
    readonly svg: string | null;
    readonly findings: readonly {
      readonly number: number;
      readonly severity: Finding['severity'];
      readonly words: string;
    }[];
  }[];
  /** Pieces that nothing was found on, as SVGs. */
  readonly sound: readonly { readonly piece: string; readonly svg: string }[];
}

/** A part as the lay shows it, its contours in its own frame as SVG path data with y upwards. */
export interface TablePart {
  readonly label: string;
  readonly name: string;
  readonly piece: string;
  readonly kind: string;
  readonly side: Side | null;
  readonly hand: Hand;
  readonly order: string;
  readonly set: number;
  readonly material: string;
  /** The contour to cut and all inner contours: filled even-odd. */
  readonly d: string;
  /** The contour to cut as short lines: x, y, x, y ...; for hit tests. */
  readonly ring: readonly number[];
  /** minX, minY, maxX, maxY of the contour to cut. */
  readonly box: readonly [number, number, number, number];
  /** Fold, stitch and mark lines, never cut. */
  readonly marks: string;
  /** Where its label is best written. */
  readonly at: readonly [number, number];
  readonly pileDeg: number | null;
  /** The turns that it may lie in. */
  readonly turns: readonly number[];
  readonly edges: readonly {
    readonly kind: string;
    readonly name: string | null;
    readonly onShow: boolean;
    /** mm */
    readonly length: number;
    readonly d: string;
    /** What happens to it, in words. */
    readonly words: string;
  }[];
  /** What happens to the part next, in words. */
  readonly next: readonly string[];
  /** What it is sewn to, lies on and goes under, in words. */
  readonly neighbours: readonly string[];
}

/** A roll as the lay shows it. */
export interface TableRoll {
  readonly material: string;
  /** Its name among several of the material. */
  readonly name: string | null;
  readonly title: string;
  readonly width: number;
  readonly selvedge: number;
  readonly startMargin: number;
  /** null: said to be enough. */
  readonly length: number | null;
  readonly dyeLot: string | null;
  /** Polygons, x, y, x, y ... */
  readonly defects: readonly (readonly number[])[];
  readonly outline: readonly number[] | null;
  /** mm along the roll where a bite begins, as far as known. */
  readonly biteLength: number | null;
  readonly gap: number;
}

/** A lay, whole or in part. */
export interface TableLay {
  readonly material: string;
  readonly roll: string | null;
  readonly placements: readonly Placed[];
  /** Labels of parts that are pinned. */
  readonly pinned: readonly string[];
  readonly length: number;
  readonly density: number;
}

/** All that the lay's view needs of a run. */
export interface Table {
  readonly run: string;
  readonly title: string;
  readonly version: string;
  readonly parts: readonly TablePart[];
  readonly rolls: readonly TableRoll[];
  /** Lays that are known, none for what was never laid. */
  readonly lays: readonly TableLay[];
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

/** What the server tells of a run while somebody looks on: one server-sent event each, named by `kind`. */
export type RunEvent =
  | ({ readonly kind: 'search' } & SearchState)
  /** A shorter lay. */
  | ({ readonly kind: 'lay' } & TableLay)
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

/** How the making of a run's files stands. */
export interface CutState {
  readonly isUnderWay: boolean;
  /** Of the last time; empty while it is under way. */
  readonly findings: readonly Finding[];
}

/** A part that is moved by hand, or let go. */
export interface Move {
  readonly version: string;
  readonly material: string;
  readonly roll: string | null;
  readonly label: string;
  /** null: the pin is taken out and the part lies where it lies. */
  readonly to: { readonly x: number; readonly y: number; readonly rotation: number } | null;
  /** Only asked whether it could lie there. */
  readonly dry: boolean;
}

export interface Moved {
  /** Why it may not lie there; none: it may, and unless asked only, does. */
  readonly findings: readonly Finding[];
  /** Where it lies well within a few mm of there; null: nowhere near. */
  readonly near: { readonly x: number; readonly y: number; readonly rotation: number } | null;
  readonly version: string;
}

/** What the proof says of a run folder as it stands on the disk now. */
export interface ProofOfRun {
  readonly proven: boolean;
  readonly findings: readonly Finding[];
}

/** A run folder with all that is shown of it. */
export interface Folder extends ProofOfRun {
  readonly name: string;
  readonly title: string;
  readonly fingerprint: string;
  readonly recutOf: string | null;
  readonly files: readonly FolderFile[];
  readonly parts: readonly TablePart[];
  readonly rolls: readonly TableRoll[];
  readonly lays: readonly TableLay[];
  /** Whether its run file would give these very bytes; null where that is not known. */
  readonly upToDate: boolean | null;
  /** What is left of rolls that have a name and a length, once it is cut. */
  readonly rests: readonly RestOfRoll[];
}

/** A roll as it is to be remembered. */
export interface RestOfRoll {
  readonly material: string;
  readonly roll: RollSheet;
}

export interface FolderFile {
  readonly name: string;
  readonly size: number;
  readonly what:
    | 'drawing'
    | 'program'
    | 'dry'
    | 'bite'
    | 'sheet'
    | 'labels'
    | 'paper'
    | 'picture'
    | 'record';
  /** Of its material or order, where it has one. */
  readonly of: string | null;
  /** Programs of a run that is not proven are not given. */
  readonly offered: boolean;
}

/**
 * A rehearsal: the head is JSON of this shape, behind it in the same body `moves` as little-endian
 * numbers, see `rehearsalBody`.
 */
export interface Rehearsal {
  readonly file: string;
  readonly material: string;
  readonly roll: string | null;
  /** Moves, in the order of the program. */
  readonly count: number;
  /** Seconds, all told. */
  readonly seconds: number;
  /** mm with the knife down and up. */
  readonly cutLength: number;
  readonly travelLength: number;
  readonly bites: readonly {
    /** mm the roll has been fed when it begins. */
    readonly fed: number;
    readonly firstMove: number;
    readonly seconds: number;
  }[];
  /** The first move over each part. */
  readonly parts: readonly {
    readonly label: string;
    readonly move: number;
    readonly seconds: number;
  }[];
  /** Roll and parts as they lie on the bed, which with the face down is a mirror image of the lay. */
  readonly bed: {
    readonly roll: TableRoll;
    readonly parts: readonly TablePart[];
    readonly placements: readonly Placed[];
  };
  /** What the program says to the operator, and when. */
  readonly messages: readonly {
    readonly move: number;
    readonly line: number;
    readonly text: string;
  }[];
}

/** Arrays of a rehearsal, one number a move. Positions are of the tip, mm in the frame of the lay. */
export interface RehearsalMoves {
  /** x and y where the move ends; it begins where the one before it ends. */
  readonly x: Float32Array;
  readonly y: Float32Array;
  /** Seconds from the start at its end. */
  readonly at: Float32Array;
  /** 1: knife down and cutting, 0: up, 2: held shallow while it swivels. */
  readonly down: Uint8Array;
  /** Line of the program. */
  readonly line: Uint32Array;
}

/** What `compare` finds between two runs. */
export interface Comparison {
  readonly equal: boolean;
  readonly lines: readonly {
    readonly what: string;
    readonly where: string;
    readonly words: string;
  }[];
  /** Overlay pictures as SVG. */
  readonly pictures: readonly string[];
}

/** What every refusal comes as, with status 4xx or 5xx. */
export interface Refused {
  readonly findings: readonly Finding[];
}

/** A first set made of a drawing that was sent. */
export interface Imported {
  readonly set: string;
  readonly pieces: readonly {
    readonly name: string;
    readonly side: string;
    readonly quantity: number;
    readonly material: string;
    readonly guesses: readonly string[];
  }[];
  readonly findings: readonly Finding[];
}
