import type { Finding } from '../../base/findings.ts';
import { boxOfPath } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { transformPoint } from '../../geometry/paths/transform.ts';
import type { Cutter } from '../../knife/cutter.ts';
import { turnedOver } from '../../lay/face-down.ts';
import { judgeLaid } from '../../lay/judge.ts';
import { fault } from './faults.ts';
import type { DrawnPart } from './prove-dxf.ts';
import { recordedRules } from '../record/lay-record.ts';
import { recordedPolygon } from '../record/figures.ts';
import type { LayRecord, PolygonRecord } from '../record/run-record.ts';

/** Six decimals and their sums, mm. */
const rounding = 0.001;

/**
 * Holds the contours of the drawing against roll and rules: no overlap, the gap kept, inside the
 * usable roll, clear of its start, none longer than the bed, the length as the record says it. With
 * the face down the roll’s defects lie mirrored too.
 */
export function proveLay(
  drawn: readonly DrawnPart[],
  lay: LayRecord,
  face: Cutter['face'],
  file: string,
): Finding[] {
  const lines = new Map(drawn.map(({ part, outline }) => [part.record.label, outline.line]));
  const parts = drawn.map(({ part, outline }) => ({
    label: part.record.label,
    cut: outline.path,
    inner: part.inner.map(({ path }) => path),
  }));
  const onBed = (polygon: PolygonRecord): Point[] => {
    const points = recordedPolygon(polygon);
    if (face === 'up') return points;
    return points.map((p) => transformPoint(turnedOver(lay.rollWidth), p));
  };
  const roll = {
    width: lay.rollWidth,
    selvedge: lay.selvedge,
    startMargin: lay.startMargin,
    length: lay.rollLength ?? Infinity,
    defects: lay.defects.map(onBed),
    ...(lay.rollOutline === null ? {} : { outline: onBed(lay.rollOutline) }),
  };
  const found = judgeLaid(parts, roll, recordedRules(lay), rounding).map(
    ({ rule, message, where: { part } }) =>
      fault(rule, message, { file, part: part!, line: lines.get(part!)! }),
  );
  return [...found, ...lengthFaults(drawn, lay, file)];
}

function lengthFaults(drawn: readonly DrawnPart[], lay: LayRecord, file: string): Finding[] {
  const length = Math.max(0, ...drawn.map(({ outline }) => boxOfPath(outline.path).maxX));
  if (Math.abs(length - lay.length) <= rounding) return [];
  const message = `the parts reach to ${length.toFixed(2)} mm along the roll; the record says ${lay.length.toFixed(2)} mm.`;
  return [fault('lay-length', message, { file })];
}
