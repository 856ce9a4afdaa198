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

/** How much numbers with six decimals and their sums may be off, mm. */
const rounding = 0.001;

/**
 * Faults of the lay as the drawing has it: parts must not overlap, must keep the gap, lie inside the
 * usable roll and clear of its start, and not be longer than the bed. The length must be that of the
 * record. If the material lies face down, the defects of the roll are mirrored too.
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
