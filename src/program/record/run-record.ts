import type { Cutter } from '../../knife/cutter.ts';
import type { Order } from '../../handing/order.ts';
import type { EdgeKind, Hand, InnerContour, Mark, PartKind, Side } from '../../handing/part.ts';
import type { LabelStock } from '../../pattern/shop/label-stock.ts';
import type { Material } from '../../pattern/shop/material.ts';
import type { LayRules, Placement } from '../../lay/lay.ts';

/** x, y in mm and bulge of a vertex, each with at most six decimals. */
export type VertexRecord = readonly [number, number, number];
/** Corners of a polygon, mm in the lay's frame. */
export type PolygonRecord = readonly (readonly [number, number])[];
/** A closed contour, counter-clockwise, in the part's own frame. */
export type ContourRecord = readonly VertexRecord[];

/** What run.json says of a part: all that the proof needs, in the part's own frame, mm. */
export interface PartRecord {
  readonly label: string;
  readonly name: string;
  readonly piece: string;
  readonly kind: PartKind;
  readonly side: Side | null;
  readonly hand: Hand;
  readonly order: string;
  readonly set: number;
  readonly material: string;
  /** Degrees counter-clockwise from +x; null without pile. */
  readonly pileDeg: number | null;
  /** How it may be turned; null: as its material says. */
  readonly turns: LayRules['turns'] | null;
  /** Degrees by which it may lean aside. */
  readonly tilt: number;
  /** mm2 inside the net outline, cutouts not taken off. */
  readonly netArea: number;
  /** mm2 inside the cut contour, cutouts not taken off. */
  readonly cutArea: number;
  readonly cutContour: ContourRecord;
  /** The outline as fitted; null: it is the cut contour. */
  readonly netContour: ContourRecord | null;
  readonly inner: readonly {
    readonly role: InnerContour['role'];
    readonly contour: ContourRecord;
  }[];
  /** Slits: from the cut edge inwards. */
  readonly notches: readonly (readonly [readonly [number, number], readonly [number, number]])[];
  /** What is shown and never cut: open or closed paths, points as one vertex. */
  readonly marks: readonly {
    readonly role: Mark['role'];
    readonly closed: boolean;
    readonly path: readonly VertexRecord[];
  }[];
  /** mm of net outline by what happens to it. */
  readonly edges: Readonly<Record<EdgeKind, number>>;
  /** The stretches of the net outline, in its direction. */
  readonly stretches: readonly {
    readonly kind: EdgeKind;
    readonly name: string | null;
    readonly onShow: boolean;
    readonly path: readonly VertexRecord[];
  }[];
  /** What happens to it once it is cut: a verb and the rest of the words. */
  readonly next: readonly (readonly [verb: string, words: string])[];
}

export interface LayRecord {
  readonly material: string;
  /** Its name among several of the material; null where there is one. */
  readonly roll: string | null;
  readonly dyeLot: string | null;
  readonly rollWidth: number;
  readonly usableWidth: number;
  readonly selvedge: number;
  readonly startMargin: number;
  /** mm on the roll; null: said to be enough. */
  readonly rollLength: number | null;
  /** Polygons that no part may touch. */
  readonly defects: readonly PolygonRecord[];
  /** The polygon that all parts lie in; null: the roll is whole. */
  readonly rollOutline: PolygonRecord | null;
  readonly turns: LayRules['turns'];
  readonly gap: number;
  /** mm between the lines that no part crosses; null: no such lines. */
  readonly biteLength: number | null;
  /** mm cut by both passes where a part longer than that is cut in two; null: no part is longer. */
  readonly joinOverlap: number | null;
  readonly length: number;
  readonly density: number;
  readonly seed: number;
  readonly placements: readonly Placement[];
  /** mm of the material. */
  readonly thickness: number;
  readonly bites: readonly BiteRecord[];
}

/** What a bite has beside its parts, in the frame of the lay as it lies on the bed; null where it has none. */
export interface BiteRecord {
  /** Where the bed begins, mm from the roll's start. */
  readonly start: number;
  /** Way of the swivel axis from and to. */
  readonly leadIn: readonly [readonly [number, number], readonly [number, number]] | null;
  /** Middle of the registration mark. */
  readonly mark: readonly [number, number] | null;
}

/** As the lay's files are called. */
export function recordedName({ material, roll }: Pick<LayRecord, 'material' | 'roll'>): string {
  return roll === null ? material : `${material}-${roll}`;
}

/** An order with what its set is called. */
export interface OrderRecord extends Omit<Order, 'binding'> {
  readonly title: string;
  /** Colour of the tape; null where none is named. */
  readonly binding: string | null;
}

/** Where the parts of a run come from that are cut once more. */
export interface RecutRecord {
  readonly run: string;
  readonly fingerprint: string;
}

/** run.json: no clock time, no machine paths, keys in this order. */
export interface RunRecord {
  readonly format: 3;
  readonly run: string;
  readonly title: string;
  /** null: the run is no recut. */
  readonly recutOf: RecutRecord | null;
  readonly inputs: readonly { readonly file: string; readonly sha256: string }[];
  readonly cutter: Cutter;
  readonly materials: readonly Material[];
  readonly orders: readonly OrderRecord[];
  /** Whether papers say inches beside mm. */
  readonly inches: boolean;
  /** What labels are printed on. */
  readonly labelStock: LabelStock;
  readonly parts: readonly PartRecord[];
  readonly lays: readonly LayRecord[];
}
