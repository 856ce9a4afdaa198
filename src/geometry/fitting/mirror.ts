import { centreOf } from '../paths/box.ts';
import { boxOfPath, pathLength, polyline } from '../paths/path.ts';
import type { Path } from '../paths/path.ts';
import type { Point } from '../paths/point.ts';
import { between, dot, minus, plus, times } from '../paths/point.ts';
import { pointAt } from '../paths/segment.ts';
import { headingOf } from '../paths/angle.ts';
import type { Transform } from '../paths/transform.ts';
import { inverse, reflection, transformDeg, transformPoint } from '../paths/transform.ts';
import type { MeasuredPath } from '../measuring/measured-path.ts';
import { measurePath, nearestPlace } from '../measuring/measured-path.ts';
import { crossingsWith } from '../relations/crossings.ts';
import { mirroredStarts, pointsEvenly, settledPoints } from './motions.ts';

/** A line in which an outline is its own mirror image. */
export interface MirrorLine {
  /** Where it meets the outline first and last: it points upwards, or to the right where it is level. */
  readonly from: Point;
  readonly to: Point;
  /** How far the mirror image is from the outline at most, mm. */
  readonly off: number;
}

/** How an outline becomes the mirror image of another one. */
export interface MirrorFit {
  /** The motion, with a mirror, that lays the first on the second. */
  readonly motion: Transform;
  /** How far the two are then apart at most, mm. */
  readonly off: number;
}

/** At most so many rough motions are made exact. */
const mostTried = 4;

/** A rough motion is made exact in so many steps, by every third point: the shapes are alike already. */
const steps = [Infinity, Infinity, Infinity];
const everyThird = 3;

/** Of lines that fit equally well within this (mm), the most upright is taken. */
const alike = 0.01;

/**
 * The line in which a closed outline of lines and arcs is its own mirror image, whichever way it lies.
 * null: there is none in which it is nowhere more than `within` mm off.
 */
export function mirrorLineOf(outline: Path, within: number): MirrorLine | null {
  const measured = measurePath(outline);
  const centre = centreOf(boxOfPath(outline));
  const fits = [
    ...[90, 0].map((deg) => reflection(centre, deg)),
    ...motionsOnto(outline, measured, measured, within).map((motion) => pureMirror(motion, centre)),
  ].flatMap((mirror) => {
    // A mirror undoes itself: what the image misses of the outline, the outline misses of the image.
    const off = furthestOff(measured, mirror, measured, within);
    return off === null ? [] : [{ mirror, off }];
  });
  const least = Math.min(...fits.map(({ off }) => off));
  const best = fits
    .filter(({ off }) => off <= least + alike)
    .toSorted((a, b) => uprightness(b.mirror) - uprightness(a.mirror))[0];
  return best === undefined ? null : lineOf(best.mirror, best.off, centre, measured);
}

/**
 * How far one closed outline is from being the mirror image of another one, wherever and however turned
 * each is drawn. null: more than `within` mm.
 */
export function mirrorFit(one: Path, other: Path, within: number): MirrorFit | null {
  const [from, to] = [measurePath(one), measurePath(other)];
  // Of two that differ by so little neither is much longer.
  if (Math.abs(from.length - to.length) > 0.02 * from.length + 8 * within) return null;
  const fits = motionsOnto(one, from, to, within).flatMap((motion): MirrorFit[] => {
    const there = furthestOff(from, motion, to, within);
    if (there === null) return [];
    const back = furthestOff(to, inverse(motion), from, within);
    return back === null ? [] : [{ motion, off: Math.max(there, back) }];
  });
  return fits.reduce<MirrorFit | null>(
    (best, fit) => (best === null || fit.off < best.off ? fit : best),
    null,
  );
}

/** The motions with a mirror that lay one outline as well as it can be on another one. */
function motionsOnto(
  path: Path,
  from: MeasuredPath,
  to: MeasuredPath,
  within: number,
): Transform[] {
  const own = pointsEvenly(path);
  const target = from === to ? own : pointsEvenly(to.path);
  // Points of the two that correspond are up to half a step apart along the outline.
  const allowed = within + pathLength(path) / own.length;
  const few = own.filter((_, i) => i % everyThird === 0);
  return mirroredStarts(own, target, true, allowed)
    .filter(({ off }) => off <= allowed)
    .toSorted((a, b) => a.off - b.off)
    .slice(0, mostTried)
    .map(({ motion }) => settledPoints(motion, few, to, steps));
}

/**
 * How far the image of a path is from another one at most, mm, at the ends and the middle of its segments.
 * null: more than `within`.
 */
function furthestOff(
  { segments }: MeasuredPath,
  motion: Transform,
  to: MeasuredPath,
  within: number,
): number | null {
  let [most, guess] = [0, 0];
  for (const segment of segments) {
    for (const t of [0, 0.5]) {
      const image = transformPoint(motion, pointAt(segment, t));
      const { distance, station } = nearestPlace(to, image, guess);
      if (distance > within) return null;
      if (distance > most) most = distance;
      guess = station.segment;
    }
  }
  return most;
}

/** The mirror of a motion without its slide along the mirror line. `near`: a point on or near the outline. */
function pureMirror(motion: Transform, near: Point): Transform {
  const through = between(near, transformPoint(motion, near), 0.5);
  return reflection(through, transformDeg(motion, 0) / 2);
}

/** How upright a mirror line is, from 0 to 1. */
function uprightness(mirror: Transform): number {
  return Math.abs(headingOf(transformDeg(mirror, 0) / 2).y);
}

function lineOf(mirror: Transform, off: number, centre: Point, measured: MeasuredPath): MirrorLine {
  const through = between(centre, transformPoint(mirror, centre), 0.5);
  const heading = headingOf(transformDeg(mirror, 0) / 2);
  const isUp = heading.y > 1e-9 || (Math.abs(heading.y) <= 1e-9 && heading.x > 0);
  const along = isUp ? heading : times(heading, -1);
  const reach = measured.length;
  const ray = polyline(
    [minus(through, times(along, reach)), plus(through, times(along, reach))],
    false,
  );
  const met = crossingsWith(measured, ray)
    .map((p) => dot(minus(p, through), along))
    .sort((a, b) => a - b);
  return {
    from: plus(through, times(along, met[0] ?? -reach)),
    to: plus(through, times(along, met.at(-1) ?? reach)),
    off,
  };
}
