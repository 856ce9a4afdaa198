import { distance } from '../../geometry/paths/point.ts';
import type { Segment } from '../../geometry/paths/segment.ts';
import type { KnifePlace, Stroke, Trace } from '../reading/trace.ts';
import { isBefore } from '../reading/trace.ts';

/** How far segments may differ by rounding, and by the way from which a trailing knife came, mm. */
const same = 0.002;

/**
 * Whether several programs, one after the other, cut and punch the same as one program alone, in the same
 * order.
 */
export function isSameWork(parts: readonly Trace[], whole: Trace): boolean {
  const strokes = parts.flatMap((trace) => trace.strokes);
  const punches = parts.flatMap((trace) => trace.punches);
  return (
    strokes.length === whole.strokes.length &&
    punches.length === whole.punches.length &&
    strokes.every((stroke, i) => isSameStroke(stroke, whole.strokes[i]!)) &&
    punches.every((punch, i) => isSamePunch(punch, strokes, whole.punches[i]!, whole.strokes))
  );
}

function isSameStroke(a: Stroke, b: Stroke): boolean {
  return (
    a.note === b.note &&
    a.steps.length === b.steps.length &&
    a.steps.every(({ segment }, i) => isSameSegment(segment, b.steps[i]!.segment))
  );
}

/** Compares the middles too, where arcs of different bulge differ most. */
function isSameSegment(a: Segment, b: Segment): boolean {
  const rise = Math.abs(a.bulge - b.bulge) * distance(a.from, a.to);
  return distance(a.from, b.from) <= same && distance(a.to, b.to) <= same && rise <= same;
}

function isSamePunch(
  a: KnifePlace,
  aStrokes: readonly Stroke[],
  b: KnifePlace,
  bStrokes: readonly Stroke[],
): boolean {
  const before = (spot: KnifePlace, strokes: readonly Stroke[]): number =>
    strokes.findIndex((stroke) => isBefore(spot, stroke));
  return (
    a.note === b.note && distance(a.at, b.at) <= same && before(a, aStrokes) === before(b, bStrokes)
  );
}
