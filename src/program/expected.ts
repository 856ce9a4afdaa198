import type { Path } from '../geometry/path.ts';
import { polyline } from '../geometry/path.ts';
import { transformPath, transformPoint } from '../geometry/transform.ts';
import { isCuttable } from '../knife/cuttable.ts';
import type { CutKind } from '../knife/cuts.ts';
import type { Placement } from '../lay/lay.ts';
import { placementTransform } from '../lay/lay.ts';
import type { ContourRecord, LayRecord, PartRecord, RunRecord } from './run-record.ts';

/** A part where run.json has it on the roll: what drawing and programs are held against. Lay frame. */
export interface ExpectedPart {
  readonly record: PartRecord;
  readonly placement: Placement;
  readonly outline: Path;
  readonly inner: readonly { readonly path: Path; readonly cuttable: boolean }[];
  readonly notches: readonly Path[];
}

/** One path that must be cut. */
export interface ExpectedCut {
  readonly label: string;
  readonly kind: CutKind;
  readonly path: Path;
}

/** The parts of a lay; placements of parts that the record does not have are left out. */
export function expectedParts(run: RunRecord, lay: LayRecord): ExpectedPart[] {
  const byLabel = new Map(run.parts.map((part) => [part.label, part]));
  return lay.placements.flatMap((placement) => {
    const record = byLabel.get(placement.label);
    return record === undefined ? [] : [expectedPart(record, placement, run)];
  });
}

function expectedPart(record: PartRecord, placement: Placement, run: RunRecord): ExpectedPart {
  const transform = placementTransform(placement);
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
export function expectedCuts({ record, outline, inner, notches }: ExpectedPart): ExpectedCut[] {
  const cut = (kind: CutKind, path: Path): ExpectedCut => ({ label: record.label, kind, path });
  return [
    ...notches.map((path) => cut('notch', path)),
    ...inner.filter(({ cuttable }) => cuttable).map(({ path }) => cut('inner', path)),
    cut('outline', outline),
  ];
}
