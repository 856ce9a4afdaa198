import type { Finding } from '../../base/findings.ts';
import type { FirstQuestion } from '../../pattern/first-look/first-file.ts';

/** What `check` finds on a set, piece by piece. */
export interface SetCheck {
  readonly name: string;
  readonly title: string;
  readonly total: string;
  /** A picture (SVG) of how the edges of pieces are drawn. */
  readonly edges: string;
  readonly groups: readonly {
    /** null: what was found concerns the set as a whole. */
    readonly piece: string | null;
    /** A picture (SVG) of the piece with its findings ringed; null where there is no piece. */
    readonly svg: string | null;
    readonly findings: readonly {
      readonly number: number;
      readonly severity: Finding['severity'];
      readonly words: string;
    }[];
  }[];
  /** Pieces on which nothing was found, each with its picture (SVG). */
  readonly sound: readonly { readonly piece: string; readonly svg: string }[];
}

/** The first set that was made of a drawing, and what is asked about it. */
export interface SetFromDrawing {
  readonly set: string;
  readonly title: string;
  readonly asked: readonly FirstQuestion[];
  readonly pieces: readonly {
    readonly name: string;
    readonly side: string;
    readonly quantity: number;
    readonly material: string;
    readonly asked: readonly FirstQuestion[];
  }[];
  readonly findings: readonly Finding[];
}
