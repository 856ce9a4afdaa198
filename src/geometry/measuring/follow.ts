import type { MeasuredPath, NearestPlace } from './measured-path.ts';
import { nearestPlace, stationLength } from './measured-path.ts';
import type { Path } from '../paths/path.ts';
import { segmentsOf } from '../paths/path.ts';
import type { Point } from '../paths/point.ts';
import { nearestOnSegment, pointAt, segmentLength } from '../paths/segment.ts';

/** A place on a path, and the length in mm over which something holds there. */
interface Lapse {
  readonly at: Point;
  readonly length: number;
}

/** How a path follows a closed outline that it was drawn along. Lengths in mm. */
export interface Following {
  /**
   * Where the path begins: the length along the outline of the outline's point nearest to the path's
   * start.
   */
  readonly from: number;
  /** How far the path then goes along the outline. Negative: against the outline's direction. */
  readonly advance: number;
  /**
   * Where the path is furthest from the outline, how far it is there, and over how much of its own length
   * it is too far away.
   */
  readonly furthest: Lapse & { readonly distance: number };
  /**
   * Where the path jumps over a part of the outline, for example across a slit: the place of the largest
   * jump, and how much longer the outline is there than the path.
   */
  readonly jump: Lapse;
  /**
   * Where the path turns back against its own direction along the outline, and how far it goes back at
   * most.
   */
  readonly back: Lapse;
}

/**
 * A point of the path, the length along the path up to it (`run`), the nearest place on the outline, and
 * the length along the outline up to that place (`along`). Lengths in mm.
 */
interface Sample {
  readonly point: Point;
  readonly run: number;
  readonly on: NearestPlace;
  readonly along: number;
}

/** Longest step between two points at which a path is compared with the outline, mm. */
const stride = 5;

/**
 * Follows a path along a closed outline. A segment that stays within `tolerance` mm of one segment of the
 * outline is compared at its ends and its middle, any other every few millimetres. The path must have at
 * least one segment.
 */
export function followPath(outline: MeasuredPath, path: Path, tolerance: number): Following {
  const samples = samplesOf(outline, path, tolerance);
  const steps = samples.slice(1).map((to, i) => stepBetween(samples[i]!, to, outline.length));
  const advance = steps.reduce((sum, step) => sum + step.advance, 0);
  return {
    from: samples[0]!.along,
    advance,
    furthest: furthestOf(samples, tolerance),
    jump: jumpOf(steps),
    back: backOf(steps, advance < 0 ? -1 : 1),
  };
}

function samplesOf(outline: MeasuredPath, path: Path, tolerance: number): Sample[] {
  const samples: Sample[] = [];
  let begin = 0;
  for (const segment of segmentsOf(path)) {
    const length = segmentLength(segment);
    const sampleAt = (t: number, guess?: number): Sample => {
      const point = pointAt(segment, t);
      const on = nearestPlace(outline, point, guess);
      return { point, run: begin + length * t, on, along: stationLength(outline, on.station) };
    };
    const first = samples.pop() ?? sampleAt(0);
    const middle = sampleAt(0.5, first.on.station.segment);
    const ends = [first, middle, sampleAt(1, middle.on.station.segment)];
    if (keepsTo(outline, ends, tolerance)) samples.push(...ends);
    else samples.push(...sampledEvery(stride, length, sampleAt));
    begin += length;
  }
  return samples;
}

/**
 * Whether the start, middle and end of a segment all lie within the tolerance of the one outline segment
 * that is nearest to the middle. If both are straight, the whole segment is then within the tolerance. If
 * one is an arc, it is off by at most a quarter of the tolerance more: the difference is roughly a curve
 * of the second degree, and such a curve is fixed by three points.
 */
function keepsTo(
  { segments }: MeasuredPath,
  [first, middle, last]: readonly Sample[],
  tolerance: number,
): boolean {
  const on = segments[middle!.on.station.segment]!;
  return (
    middle!.on.distance <= tolerance &&
    nearestOnSegment(on, first!.point).distance <= tolerance &&
    nearestOnSegment(on, last!.point).distance <= tolerance
  );
}

function sampledEvery(
  step: number,
  length: number,
  sampleAt: (t: number, guess?: number) => Sample,
): Sample[] {
  const count = Math.max(2, Math.ceil(length / step));
  const samples = [sampleAt(0)];
  for (let i = 1; i <= count; i++) {
    samples.push(sampleAt(i / count, samples.at(-1)!.on.station.segment));
  }
  return samples;
}

interface FollowStep {
  readonly from: Sample;
  /** Length of the step along the path, and along the outline by its shorter way, mm. */
  readonly run: number;
  readonly advance: number;
}

function stepBetween(from: Sample, to: Sample, round: number): FollowStep {
  const forward = to.along - from.along;
  return { from, run: to.run - from.run, advance: forward - round * Math.round(forward / round) };
}

function furthestOf(samples: readonly Sample[], tolerance: number): Following['furthest'] {
  let [worst, length] = [samples[0]!, 0];
  for (const [i, sample] of samples.entries()) {
    if (sample.on.distance > worst.on.distance) worst = sample;
    if (sample.on.distance <= tolerance) continue;
    length += ((samples[i + 1] ?? sample).run - (samples[i - 1] ?? sample).run) / 2;
  }
  return { at: worst.point, length, distance: worst.on.distance };
}

function jumpOf(steps: readonly FollowStep[]): Lapse {
  let jump: Lapse = { at: steps[0]!.from.point, length: 0 };
  for (const { from, run, advance } of steps) {
    const length = Math.abs(advance) - run;
    if (length > jump.length) jump = { at: from.point, length };
  }
  return jump;
}

function backOf(steps: readonly FollowStep[], direction: 1 | -1): Lapse {
  let back: Lapse = { at: steps[0]!.from.point, length: 0 };
  let [reached, top, turn] = [0, 0, back.at];
  for (const { from, advance } of steps) {
    if (reached >= top) [top, turn] = [reached, from.point];
    reached += advance * direction;
    if (top - reached > back.length) back = { at: turn, length: top - reached };
  }
  return back;
}
