import type { Path } from '../geometry/path.ts';
import { polyline } from '../geometry/path.ts';
import { compose, transformPath, transformPoint } from '../geometry/transform.ts';
import { isCuttable } from '../knife/cuttable.ts';
import type { CutKind } from '../knife/cuts.ts';
import { turnedOver } from '../lay/face-down.ts';
import type { Placement } from '../lay/lay.ts';
import { placementTransform } from '../lay/lay.ts';
import type { ContourRecord, LayRecord, PartRecord, RunRecord } from './run-record.ts';

/** A part where run.json has it on the roll, turned over where it is cut face down: what drawing and programs are held against. Lay frame. */
export interface ExpectedPart {
  readonly record: PartRecord;
  readonly placement: Placement;
  readonly outline: Path;
  readonly inner: readonly { readonly path: Path; readonly cuttable: boolean }[];
  readonly notches: readonly Path[];
}

/** One path of a part that must be cut. */
export interface PartCut {
  readonly label: string;
  readonly kind: CutKind;
  readonly path: Path;
}

/** One path that must be cut, in a part or in waste. */
export interface ExpectedCut extends Omit<PartCut, 'kind'> {
  readonly kind: CutKind | 'mark';
}

/** The parts of a lay; placements of parts that the record does not have are left out. */
export function expectedParts(run: RunRecord, lay: LayRecord): ExpectedPart[] {
  const byLabel = new Map(run.parts.map((part) => [part.label, part]));
  return lay.placements.flatMap((placement) => {
    const record = byLabel.get(placement.label);
    return record === undefined ? [] : [expectedPart(record, placement, run, lay)];
  });
}

function expectedPart(
  record: PartRecord,
  placement: Placement,
  run: RunRecord,
  lay: LayRecord,
): ExpectedPart {
  const laid = placementTransform(placement);
  const transform = run.cutter.face === 'down' ? compose(turnedOver(lay.rollWidth), laid) : laid;
  return {
    record,
    placement,
    outline: transformPath(transform, contourPath(record.cutContour)),
    inner: record.inner.map(({ contour }) => {
      const path = contourPath(contour);
      return { path: transformPath(transform, path), cuttable: isCuttable(path, run.cutter) };
    }),
    notches: record.notches.map((ends) =>
      polyline(
        ends.map(([x, y]) => transformPoint(transform, { x, y })),
        false,
      ),
    ),
  };
}

export function contourPath(contour: ContourRecord): Path {
  return { closed: true, vertices: contour.map(([x, y, bulge]) => ({ x, y, bulge })) };
}

/** Everything the knife must cut of a part. */
export function expectedCuts({ record, outline, inner, notches }: ExpectedPart): PartCut[] {
  const cut = (kind: CutKind, path: Path): PartCut => ({ label: record.label, kind, path });
  return [
    ...notches.map((path) => cut('notch', path)),
    ...inner.filter(({ cuttable }) => cuttable).map(({ path }) => cut('inner', path)),
    cut('outline', outline),
  ];
}
