import type { Path } from '../../geometry/paths/path.ts';
import { pathOf, segmentsOf } from '../../geometry/paths/path.ts';
import type { Segment } from '../../geometry/paths/segment.ts';
import { arcOf, pointAt } from '../../geometry/paths/segment.ts';
import { sameRadius } from '../cuttable.ts';
import type { Cutter } from '../cutter.ts';

/** How far a step may be from its curve, mm. */
const stepError = 0.04;

/** Whether a segment is an arc too tight for the blade to be turned along it in the material. */
export function isTight(segment: Segment, { smallestRadius }: Cutter['blade']): boolean {
  return segment.bulge !== 0 && arcOf(segment).radius < smallestRadius - sameRadius;
}

/**
 * Divides a stroke so that curves too tight for the blade are cut in steps: chords of the arc, no further
 * from it than stepError. The knife is lifted and turned between steps.
 */
export function inSteps(stroke: Path, blade: Cutter['blade']): Path[] {
  const strokes: Path[] = [];
  let run: Segment[] = [];
  const endRun = (): void => {
    if (run.length > 0) strokes.push(pathOf(run, false));
    run = [];
  };
  for (const segment of segmentsOf(stroke)) {
    if (!isTight(segment, blade)) {
      run.push(segment);
      continue;
    }
    endRun();
    strokes.push(...chordsOf(segment, stepError).map((chord) => pathOf([chord], false)));
  }
  endRun();
  return strokes;
}

/**
 * Equal chords of an arc, whose ends lie on it and which leave it by `error` mm at most: each spans up to
 * 2 acos(1 - error / R). A straight segment is its own chord.
 */
export function chordsOf(segment: Segment, error: number): Segment[] {
  if (segment.bulge === 0) return [segment];
  const { radius, sweep } = arcOf(segment);
  const step = 2 * Math.acos(Math.max(-1, 1 - error / radius));
  const count = Math.max(1, Math.ceil(Math.abs(sweep) / step - 1e-9));
  const place = (i: number) =>
    i === 0 ? segment.from : i === count ? segment.to : pointAt(segment, i / count);
  return Array.from({ length: count }, (_, i) => ({ from: place(i), to: place(i + 1), bulge: 0 }));
}
