import { z } from 'zod';
import type { Finding } from '../../base/findings.ts';

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

/** A first set made of a drawing that was sent. */
export interface SetFromDrawing {
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

/** What a drawing is sent with. */
export const drawingQuerySchema = z.object({
  units: z.enum(['mm', 'cm', 'm', 'in']).optional().describe('left out: as the drawing says'),
});
