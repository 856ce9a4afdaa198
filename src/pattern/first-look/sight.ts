import type { Drawing, Entity } from '../../drawing/drawing.ts';
import type { Finding } from '../../base/findings.ts';
import type { Labels } from '../labels.ts';
import type { Role } from '../layers.ts';
import type { Outline } from '../outlines/contours.ts';

/** An outline in a drawing with what lies inside it; areas in mm2, lengths in mm. */
interface PieceReport {
  readonly name: string;
  /** Where the name comes from; `count`: the drawing gives none, so the piece is numbered. */
  readonly nameFrom: 'block' | 'text' | 'count';
  /** The block in which it is drawn. null: it is drawn loose. */
  readonly block: string | null;
  readonly outline: {
    readonly area: number;
    readonly perimeter: number;
    readonly bbox: readonly [number, number, number, number];
    readonly segments: { readonly lines: number; readonly arcs: number };
  };
  readonly inner: readonly { readonly role: Role | 'unknown'; readonly area: number }[];
  /**
   * How many lines and points of each role lie in it, and with which options, without texts, notes and
   * contours but for its outlines with other options.
   */
  readonly features: Readonly<Record<string, number>>;
  /** Whether only one half is drawn, with a mirror line. The figures are those of the whole piece. */
  readonly half: boolean;
  readonly labels: Labels;
  readonly layers: readonly string[];
  /** Those of its layers that say nothing. */
  readonly unknownLayers: readonly string[];
}

/** What the tool sees in a drawing, before any set exists. */
export interface DrawingReport {
  readonly file: string;
  readonly units: Drawing['units'];
  readonly unitsFrom: Drawing['unitsFrom'];
  readonly pieces: readonly PieceReport[];
  readonly findings: readonly Finding[];
}

/** A piece as it was found: in figures, and as drawn. */
export interface SeenPiece {
  readonly report: PieceReport;
  readonly outline: Outline;
}

/** What was found in a drawing: a report, the pieces as drawn, and what belongs to none of them. */
export interface Sight {
  readonly report: DrawingReport;
  readonly pieces: readonly SeenPiece[];
  /** Everything that lies in no outline, texts and notes too; all but the check square. */
  readonly leftOut: readonly Entity[];
  /** The blocks that the drawing never inserts, while it inserts others. */
  readonly hidden: readonly string[];
  /** The lines of the check square. */
  readonly square: readonly Entity[];
}
