import { normalDeg } from '../../geometry/paths/angle.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { compose, transformPath, transformPoint } from '../../geometry/paths/transform.ts';
import type { Treatment } from '../../knife/cuttable.ts';
import { treatmentOf } from '../../knife/cuttable.ts';
import { notchCuts } from '../../knife/order/notch-cuts.ts';
import type { CutKind } from '../../knife/cuts.ts';
import { turnedOver } from '../../lay/face-down.ts';
import type { Placement } from '../../lay/lay.ts';
import { placementTransform } from '../../lay/lay.ts';
import { recordedContour, recordedPath } from './figures.ts';
import type { LayRecord, PartRecord, RunRecord } from './run-record.ts';

/**
 * A part as run.json places it, in the lay's frame; turned over if it is cut face down. Drawing and
 * programs are compared with this.
 */
export interface ExpectedPart {
  readonly record: PartRecord;
  /** The contour to cut in the part's own frame; `rotation` is its turn on the roll, degrees. */
  readonly contour: Path;
  readonly rotation: number;
  readonly outline: Path;
  readonly inner: readonly { readonly path: Path; readonly treatment: Treatment }[];
  readonly notches: readonly Path[];
  /** What is shown and not cut: lines and points, with what is left to the bench. */
  readonly marks: readonly Path[];
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

/** The parts of a lay. Placements of parts that the record does not have are left out. */
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
  const isDown = run.cutter.face === 'down';
  const transform = isDown ? compose(turnedOver(lay.rollWidth), laid) : laid;
  const contour = recordedContour(record.cutContour);
  return {
    record,
    contour: isDown ? transformPath(turnedOver(0), contour) : contour,
    rotation: isDown ? normalDeg(-placement.rotation) : placement.rotation,
    outline: transformPath(transform, contour),
    inner: record.inner.map(({ role, contour: own }) => {
      const path = recordedContour(own);
      const treatment = treatmentOf({ role, path }, run.cutter);
      return { path: transformPath(transform, path), treatment };
    }),
    marks: marksOf(record, run.cutter).map((path) => transformPath(transform, path)),
    notches: record.notches.flatMap((ends) => {
      const [from, to] = ends.map(([x, y]) => transformPoint(transform, { x, y }));
      return notchCuts({ from: from!, to: to! }, run.cutter);
    }),
  };
}

/** The marks of a part, its contours that no tool can make, and its notches if they are only drawn. */
function marksOf({ marks, inner, notches }: PartRecord, cutter: RunRecord['cutter']): Path[] {
  const bench = inner
    .map(({ role, contour }) => ({ role, path: recordedContour(contour) }))
    .filter((one) => treatmentOf(one, cutter) === 'bench');
  const drawn = cutter.notches.cut === 'mark' ? notches : [];
  return [
    ...marks.map(({ path, closed }) => recordedPath(path, closed)),
    ...bench.map(({ path }) => path),
    ...drawn.map(([[x0, y0], [x1, y1]]) =>
      recordedPath(
        [
          [x0, y0, 0],
          [x1, y1, 0],
        ],
        false,
      ),
    ),
  ];
}

/** Everything that the knife must cut of a part, and the holes that are punched. */
export function expectedCuts({ record, outline, inner, notches }: ExpectedPart): PartCut[] {
  const cut = (kind: CutKind, path: Path): PartCut => ({ label: record.label, kind, path });
  return [
    ...notches.map((path) => cut('notch', path)),
    ...inner
      .filter(({ treatment }) => treatment !== 'bench')
      .map(({ path, treatment }) => cut(treatment === 'cut' ? 'inner' : 'punch', path)),
    cut('outline', outline),
  ];
}
