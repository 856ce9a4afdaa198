import type { Placement } from '../../lay/lay.ts';
import type { Hand, Side } from '../../pattern/words.ts';

/** A part as the lay shows it, its contours in its own frame as SVG path data with y upwards. */
export interface PicturedPart {
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
export interface PicturedRoll {
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
export interface PicturedLay {
  readonly material: string;
  readonly roll: string | null;
  readonly placements: readonly Placement[];
  /** Labels of parts that are pinned. */
  readonly pinned: readonly string[];
  readonly length: number;
  readonly density: number;
}
