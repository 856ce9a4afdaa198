import type { MeasuredPath, NearestPlace } from './measured-path.ts';
import { nearestPlace, stationLength } from './measured-path.ts';
import type { Path } from '../paths/path.ts';
import { segmentsOf } from '../paths/path.ts';
import type { Point } from '../paths/point.ts';
import { nearestOnSegment, pointAt, segmentLength } from '../paths/segment.ts';

/** Where something along a path is, and over what length of it, mm. */
interface Lapse {
  readonly at: Point;
  readonly length: number;
}

/** How a path runs along a closed one that it was drawn along. Lengths in mm. */
export interface Following {
  /** Along the closed path, where the other begins on it. */
  readonly from: number;
  /** How far it then goes round; negative where it runs against the closed path's direction. */
  readonly advance: number;
  /** Where it is furthest away, how far, and for how much of its own length it is too far. */
  readonly furthest: Lapse & { readonly distance: number };
  /** Where it passes over most of the closed path at once, beyond its own length: across a slit. */
  readonly jump: Lapse;
  /** Where it turns to run back furthest against its own direction. */
  readonly back: Lapse;
}

/** A point of the path, how far along it (mm), and its place on the closed path. */
interface Sample {
  readonly point: Point;
  readonly run: number;
  readonly on: NearestPlace;
  readonly along: number;
}

/** The longest stretch that is looked at by its ends alone, mm. */
const stride = 5;

/**
 * Follows a path along a closed one. A segment that keeps within `tolerance` mm of one segment of the
 * closed path is looked at by its ends and its middle, any other every few millimetres. The path has
 * a segment.
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
 * Whether three points of a segment lie on the one segment of the outline that the middle one is on.
 * Then all of a straight one does, and an arc is off by no more than a quarter of the tolerance more:
 * what differs is a curve of the second degree, and three points hold that.
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
  /** Along the path and along the outline, mm; the outline by its shorter way. */
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
