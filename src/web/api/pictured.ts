import type { Placement } from '../../lay/lay.ts';
import type { Hand, Side } from '../../pattern/words.ts';

/**
 * A part as pictures of a roll show it. Its contours are in its own frame, mm, as SVG path data with y
 * upwards.
 */
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
  /** null: the material is kept in no colours. */
  readonly colour: string | null;
  /** The contour to cut and all inner contours, to be filled by the even-odd rule. */
  readonly d: string;
  /**
   * The corners of the contour to cut once its arcs are made short lines: an x and a y for each. It
   * tells what lies under a pointer.
   */
  readonly ring: readonly number[];
  /** The box around the contour to cut: minX, minY, maxX, maxY. */
  readonly box: readonly [number, number, number, number];
  /** Fold, stitch and mark lines, which are never cut. */
  readonly marks: string;
  /** Where its label is best written. */
  readonly at: readonly [number, number];
  readonly pileDeg: number | null;
  /** The turns, in degrees, that the part may lie in. */
  readonly turns: readonly number[];
  readonly edges: readonly {
    readonly kind: string;
    readonly name: string | null;
    readonly onShow: boolean;
    /** mm */
    readonly length: number;
    readonly d: string;
    /** What happens to the edge, in words. */
    readonly words: string;
  }[];
  /** What happens to the part next, in words. */
  readonly next: readonly string[];
  /** What it is sewn to, lies on and goes under, in words. */
  readonly neighbours: readonly string[];
}

/** A roll as pictures of it show it, mm. */
export interface PicturedRoll {
  readonly material: string;
  /** null: the material is kept in no colours. */
  readonly colour: string | null;
  /** How the colour looks, like `#6b1f2a`; null: there is none, or it is not known any more. */
  readonly sample: string | null;
  /**
   * The name that tells it from other rolls of the material; null where there is only one without a
   * name.
   */
  readonly name: string | null;
  readonly title: string;
  readonly width: number;
  readonly selvedge: number;
  readonly startMargin: number;
  /** null: it is said that there is enough of it. */
  readonly length: number | null;
  readonly dyeLot: string | null;
  /** Polygons, each as an x and a y for every corner; so is `outline`. */
  readonly defects: readonly (readonly number[])[];
  readonly outline: readonly number[] | null;
  /** How much of the roll is cut between two feeds, mm; null where that is not known. */
  readonly biteLength: number | null;
  readonly gap: number;
}

/** A lay as pictures of its roll show it: whole, or as far as its parts are laid. */
export interface PicturedLay {
  readonly material: string;
  /** null: the material is kept in no colours. */
  readonly colour: string | null;
  readonly roll: string | null;
  readonly placements: readonly Placement[];
  /** Labels of parts that are pinned. */
  readonly pinned: readonly string[];
  readonly length: number;
  readonly density: number;
  /**
   * Where bites begin along the roll, mm; where the files are not made yet, as they will be if all parts fit on the
   * bed.
   */
  readonly bites: readonly number[];
}
