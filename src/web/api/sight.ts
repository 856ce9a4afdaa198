import { z } from 'zod';
import type { Finding } from '../../base/findings.ts';
import type { Drawing, Units } from '../../drawing/drawing.ts';
import { gapSchema, refitSchema } from '../../pattern/outlines/outlines.ts';
import { hands } from '../../pattern/words.ts';

/**
 * What is seen in a drawing before it is a set. Lengths are mm; the frame of all places is that of the
 * picture: y runs up, and the lower left corner of all that is drawn is 0, 0.
 */
export interface DrawingSight {
  readonly units: {
    readonly are: Units;
    readonly from: Drawing['unitsFrom'];
    /**
     * `must`: nothing says them. `doubtful`: something does, and then the largest piece has a size that no
     * carpet has. null: they are sure.
     */
    readonly asked: 'must' | 'doubtful' | null;
    /** How large all of it and the largest piece would be, the likeliest units first. */
    readonly sizes: readonly {
      readonly units: Units;
      readonly whole: Extents;
      readonly largest: Extents | null;
    }[];
  };
  readonly size: Extents;
  /** Lines are drawn no further than this from where they are, mm; 0: they are drawn as they are. */
  readonly thinned: number;
  readonly layers: readonly SightLayer[];
  readonly pieces: readonly SightPiece[];
  readonly leftOut: readonly SightThing[];
  readonly findings: readonly Finding[];
  /** For each finding the place in the picture; null: it has none. */
  readonly spots: readonly (SightSpot | null)[];
  readonly proposed: {
    readonly name: string;
    /** The largest text outside the pieces, if it reads like one; null: the name of the set is all there is. */
    readonly title: string | null;
    /** null: the drawing says neither, or both. */
    readonly hand: 'RHD' | 'LHD' | null;
  };
  /** The customers whose layers are known. */
  readonly customers: readonly string[];
  /** The sets that were begun of this very drawing. */
  readonly begun: readonly string[];
}

/** Width and height, mm. */
export type Extents = readonly [width: number, height: number];
export type SightSpot = readonly [x: number, y: number];
/** minX, minY, maxX, maxY. */
export type SightBox = readonly [number, number, number, number];

/** All that is drawn on one layer. */
export interface SightLayer {
  readonly name: string;
  /** ROLE or ROLE-FOLLOWS; null: nothing says it. */
  readonly means: string | null;
  /** What says it: the name itself, the shop, the customer, or an answer. */
  readonly from: 'name' | 'shop' | 'customer' | 'answer' | null;
  /** What the file of the customer says of it; null: nothing. */
  readonly ofCustomer: string | null;
  readonly count: number;
  /** So many lines on it are outlines of pieces, as far as the drawing tells. */
  readonly outlines: number;
  /** What is on it: `2 closed lines, 14 short lines`. */
  readonly words: string;
  /** What it is taken for until somebody says it, and why; null: nothing tells. */
  readonly looksLike: { readonly means: string; readonly why: string } | null;
  /** SVG path data, y up, with arcs as arcs. */
  readonly d: string;
  readonly points: readonly SightSpot[];
  readonly texts: readonly SightText[];
  /** null: only texts are on it. */
  readonly box: SightBox | null;
}

export interface SightText {
  readonly at: SightSpot;
  readonly text: string;
  readonly height: number;
  /** Counter-clockwise from +x. */
  readonly deg: number;
}

export interface SightPiece {
  readonly name: string;
  /** Its outline and what is cut out of it: SVG path data, y up. */
  readonly d: string;
  readonly box: SightBox;
}

/** Something that lies in no outline. */
export interface SightThing {
  readonly layer: string;
  readonly words: string;
  readonly isText: boolean;
  readonly box: SightBox;
}

/** What somebody says of a drawing that is sent; it goes before the drawing. */
const saidOfDrawing = {
  name: z.string().min(1).max(1000).describe('the name of its file'),
  units: z.enum(['mm', 'cm', 'm', 'in']).optional().describe('left out: as the drawing says'),
  layers: z
    .array(z.tuple([z.string(), z.string()]))
    .max(2000)
    .default([])
    .describe('layers, each with ROLE or ROLE-FOLLOWS'),
  drawnBy: z.string().optional().describe('the customer who drew it'),
  gap: gapSchema.optional(),
  refit: refitSchema.optional(),
};

/** What is said along with a drawing that is only looked at. */
export const sightWishSchema = z.strictObject(saidOfDrawing);
export type SightWish = z.infer<typeof sightWishSchema>;

/** What is said along with a drawing of which a set is begun. */
export const beginWishSchema = z.strictObject({
  ...saidOfDrawing,
  title: z.string().optional(),
  drawn: z.enum(hands).optional(),
  forCustomer: z
    .array(z.string())
    .default([])
    .describe('layers that mean the same in all drawings of the customer'),
});
export type BeginWish = z.infer<typeof beginWishSchema>;
