import { normalDeg } from '../paths/angle.ts';
import { areaOf } from '../paths/area.ts';
import { boxOfPath, pathLength } from '../paths/path.ts';
import type { MeasuredPath } from '../measuring/measured-path.ts';
import { measurePath, nearestPlace, placeAlong } from '../measuring/measured-path.ts';
import type { Path } from '../paths/path.ts';
import type { Point } from '../paths/point.ts';
import { leftOf } from '../paths/point.ts';
import { tangentAt } from '../paths/segment.ts';
import type { Transform } from '../paths/transform.ts';
import {
  compose,
  identity,
  isMirror,
  reflection,
  transformPath,
  transformPoint,
  translation,
} from '../paths/transform.ts';
import { isSamePlace } from './deviation.ts';

/** The shape of a path is compared at so many points. */
const samples = 180;
/** At most so many turns of a shape are tried, the best first. */
const candidates = 8;

/**
 * The motions (turned and moved, perhaps mirrored too) that lay one path on another to `tolerance` mm.
 * The simplest come first: moved only, then turned by little, then mirrored. Empty if the shapes differ.
 *
 * The idea: rough motions are found by comparing how far points of each path are from its middle
 * (startsFor). Each is then improved until it lies on the other path as well as it can (settled). Those
 * that then agree within the tolerance are kept.
 */
export function motionsBetween(from: Path, to: Path, tolerance: number): Transform[] {
  if (from.closed !== to.closed) return [];
  const [length, other] = [pathLength(from), pathLength(to)];
  // A path within the tolerance of another may zigzag, so lengths tell little; areas tell more.
  if (Math.abs(length - other) > 0.02 * Math.max(length, other) + 8 * tolerance) return [];
  if (
    from.closed &&
    Math.abs(areaOf(from) - areaOf(to)) > 1.1 * tolerance * Math.max(length, other) + 1e-6
  )
    return [];
  const fits = startsFor(from, to)
    .map((start) =>
      settled(start, from, to, [Infinity, Infinity, Infinity, Infinity, Infinity, Infinity]),
    )
    .filter((motion) => isSamePlace(transformPath(motion, from), to, tolerance))
    .map((motion) => snapped(motion, from, to, tolerance));
  return distinct(fits, from).sort((a, b) => effort(a) - effort(b));
}

/**
 * The motion without a turn that lays one path on another; null if there is none. This is a quick test
 * that finds most things that have moved.
 */
export function plainMotion(from: Path, to: Path, tolerance: number): Transform | null {
  if (from.closed !== to.closed) return null;
  const [a, b] = [from, to].map((path) => boxOfPath(path));
  const by = translation({ x: b!.minX - a!.minX, y: b!.minY - a!.minY });
  return isSamePlace(transformPath(by, from), to, tolerance) ? by : null;
}

/** Whether two paths have the same shape or are mirror images. */
export function isCongruent(from: Path, to: Path, tolerance: number): boolean {
  return (
    plainMotion(from, to, tolerance) !== null || motionsBetween(from, to, tolerance).length > 0
  );
}

/**
 * The motion, without a mirror, that lays most of one path on another one that differs in places. Only
 * what agrees decides; what was changed has no influence.
 */
export function bestMotion(from: Path, to: Path): Transform {
  const tried = [identity, ...startsFor(from, to).filter((start) => !isMirror(start))].map(
    (start) => settled(start, from, to, [20, 10, 5, 2, 1, 0.5, 0.2, 0.1, 0.05, 0.05]),
  );
  // The first motion is the old place. It is kept if it is about as good: nobody moves a part by a hair
  // and changes it too.
  const all = [identity, ...tried];
  const shares = all.map((motion) => agreement(motion, from, to));
  const best = Math.max(...shares);
  const found = all[shares.findIndex((share) => share >= best - 0.05)]!;
  return Math.abs(turnOf(found)) < 0.02 && shiftOf(found, from) < hair ? identity : found;
}

/** How much a motion that was fitted to what agrees may be off, mm. */
const hair = 0.1;

/** The turn of a motion without a mirror, degrees counter-clockwise, in (-180, 180]. */
export function turnOf({ a, b }: Transform): number {
  const deg = normalDeg((Math.atan2(b, a) * 180) / Math.PI);
  // A half turn is given as 180, whatever rounding did to it.
  return deg > 180 + 1e-6 ? deg - 360 : deg;
}

/** How far a motion moves the middle of a path, mm. */
export function shiftOf(motion: Transform, path: Path): number {
  const middle = middleOf(pointsEvenly(path));
  const moved = transformPoint(motion, middle);
  return Math.hypot(moved.x - middle.x, moved.y - middle.y);
}

function effort(motion: Transform): number {
  if (isMirror(motion)) return 1000;
  const turn = Math.abs(turnOf(motion));
  return turn < 1e-3 ? 0 : turn;
}

/** A turn smaller than this (degrees) is an error of the fitting: nobody turns a part by so little. */
const noTurn = 0.01;

/** The motion without its turn, if that is tiny and the shapes also agree without it. */
function snapped(motion: Transform, from: Path, to: Path, tolerance: number): Transform {
  if (isMirror(motion) || Math.abs(turnOf(motion)) > noTurn) return motion;
  const [a, b] = [from, to].map((path) => middleOf(pointsEvenly(path)));
  const plain = [
    translation({ x: motion.e, y: motion.f }),
    translation({ x: b!.x - a!.x, y: b!.y - a!.y }),
  ];
  return plain.find((one) => isSamePlace(transformPath(one, from), to, tolerance)) ?? motion;
}

function distinct(motions: readonly Transform[], path: Path): Transform[] {
  const ends = pointsEvenly(path).filter((_, i) => i % 45 === 0);
  const isSame = (a: Transform, b: Transform): boolean =>
    ends.every((point) => {
      const [p, q] = [transformPoint(a, point), transformPoint(b, point)];
      return Math.hypot(p.x - q.x, p.y - q.y) < 0.05;
    });
  return motions.filter((motion, i) => !motions.slice(0, i).some((other) => isSame(motion, other)));
}

/** Points of a path at equal lengths along it, `samples` of them. */
export function pointsEvenly(path: Path): Point[] {
  const length = pathLength(path);
  if (length === 0) return [path.vertices[0]!];
  const count = path.closed ? samples : samples - 1;
  const measured = measurePath(path);
  return Array.from(
    { length: samples },
    (_, i) => placeAlong(measured, (length * i) / count).point,
  );
}

function middleOf(points: readonly Point[]): Point {
  const sum = points.reduce((a, b) => ({ x: a.x + b.x, y: a.y + b.y }));
  return { x: sum.x / points.length, y: sum.y / points.length };
}

/**
 * Rough motions to begin with: moved only; then turned so that the distances of points from the middle
 * agree; then the same for the mirror image.
 */
function startsFor(from: Path, to: Path): Transform[] {
  const target = pointsEvenly(to);
  const own = pointsEvenly(from);
  const [a, b] = [middleOf(own), middleOf(target)];
  const moved = translation({ x: b.x - a.x, y: b.y - a.y });
  const turned = pairings(own, target, from.closed).map((pairs) => kabsch(own, pairs));
  const mirrored = mirroredStarts(own, target, from.closed).map(({ motion }) => motion);
  return [moved, ...turned, ...mirrored];
}

/** A rough motion, and how far it leaves points from their counterparts: root mean square, mm. */
interface Start {
  readonly motion: Transform;
  readonly off: number;
}

/**
 * Rough motions with a mirror that bring points of one path (see pointsEvenly) near to those of another: to
 * `most` mm, root mean square.
 */
export function mirroredStarts(
  own: readonly Point[],
  target: readonly Point[],
  closed: boolean,
  most = Infinity,
): Start[] {
  const flip = reflection(middleOf(own), 90);
  const flipped = own.map((point) => transformPoint(flip, point));
  const image = closed ? flipped.toReversed() : flipped;
  return pairings(image, target, closed, most).map((pairs) => {
    const turn = kabsch(image, pairs);
    const squares = image.map((point, i) => {
      const { x, y } = transformPoint(turn, point);
      return (x - pairs[i]!.x) ** 2 + (y - pairs[i]!.y) ** 2;
    });
    const off = Math.sqrt(squares.reduce((sum, one) => sum + one, 0) / squares.length);
    return { motion: compose(turn, flip), off };
  });
}

/**
 * Ways in which points of one path may correspond to points of another. Each is a list of the target's
 * points, in the order of `points`. An open path has two ways: its two directions.
 *
 * For a closed path any point of the target may correspond to the first point: that is the shift. For
 * each shift the distances of points from their middle are compared, which do not change in a turn. The
 * best local minima are taken: symmetrical shapes have several. Where distances differ by more than `most`
 * (root mean square, mm) no turn can bring the points nearer than that.
 */
function pairings(
  points: readonly Point[],
  target: readonly Point[],
  closed: boolean,
  most = Infinity,
): Point[][] {
  if (!closed) return [[...target], target.toReversed()];
  const [radii, other] = [points, target].map((all) => {
    const middle = middleOf(all);
    return all.map(({ x, y }) => Math.hypot(x - middle.x, y - middle.y));
  }) as [number[], number[]];
  const n = samples;
  const costs = costsOfShifts(radii, other);
  return costs
    .map((cost, shift) => ({ cost, shift }))
    .filter(
      ({ cost, shift }) =>
        cost <= n * most * most &&
        cost <= costs[(shift + 1) % n]! &&
        cost <= costs[(shift + n - 1) % n]!,
    )
    .sort((a, b) => a.cost - b.cost || a.shift - b.shift)
    .slice(0, candidates)
    .map(({ shift }) => target.map((_, i) => target[(i + shift) % n]!));
}

/** For each shift the sum of the squares by which numbers differ from those that it pairs them with. */
function costsOfShifts(radii: readonly number[], other: readonly number[]): number[] {
  // Twice round, so that the inner loop, which runs some 30 000 times, needs no remainder.
  const twice = [...other, ...other];
  return radii.map((_, shift) => {
    let sum = 0;
    for (let i = 0; i < radii.length; i++) {
      const off = radii[i]! - twice[i + shift]!;
      sum += off * off;
    }
    return sum;
  });
}

/**
 * The turn and move that bring points nearest to their counterparts, by least squares (Kabsch; in two
 * dimensions there is just one angle to find).
 */
function kabsch(points: readonly Point[], pairs: readonly Point[]): Transform {
  const [a, b] = [middleOf(points), middleOf(pairs)];
  let [cross, dot] = [0, 0];
  for (const [i, p] of points.entries()) {
    const q = pairs[i]!;
    dot += (p.x - a.x) * (q.x - b.x) + (p.y - a.y) * (q.y - b.y);
    cross += (p.x - a.x) * (q.y - b.y) - (p.y - a.y) * (q.x - b.x);
  }
  return turnAbout(a, b, Math.atan2(cross, dot));
}

/** A turn about `a` by an angle in radians, after which `a` is moved to `b`. */
function turnAbout(a: Point, b: Point, angle: number): Transform {
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)];
  return {
    a: cos,
    b: sin,
    c: -sin,
    d: cos,
    e: b.x - cos * a.x + sin * a.y,
    f: b.y - sin * a.x - cos * a.y,
  };
}

/**
 * Improves a motion step by step, so that points of one path come nearer to the other path.
 *
 * The idea (Gauss-Newton): a small move (dx, dy) and turn change the distance of a point from the curve,
 * along the curve's normal, by an amount that is linear in all three. Each step solves for the three
 * values that make these distances smallest, by least squares. `scales` has a value in mm for each step:
 * a distance well beyond it hardly counts, so that places which were changed pull less and less.
 * Infinity: all count alike.
 */
function settled(start: Transform, from: Path, to: Path, scales: readonly number[]): Transform {
  return settledPoints(start, pointsEvenly(from), measurePath(to), scales);
}

/** The same for points of a path, and a path that is measured already. */
export function settledPoints(
  start: Transform,
  points: readonly Point[],
  measured: MeasuredPath,
  scales: readonly number[],
): Transform {
  if (measured.segments.length === 0) return start;
  let motion = start;
  for (const scale of scales) {
    const step = stepOf(
      points.map((point) => transformPoint(motion, point)),
      measured,
      scale,
    );
    if (step === null) break;
    motion = compose(step, motion);
  }
  return motion;
}

function stepOf(points: readonly Point[], to: MeasuredPath, scale: number): Transform | null {
  const middle = middleOf(points);
  // Normal equations of dx nx + dy ny + turn (r x n) = -gap for all points, with normal n and r from the
  // middle. The small numbers on the diagonal keep them solvable for circles, whose turn has no effect.
  const m = [
    [1e-9, 0, 0],
    [0, 1e-9, 0],
    [0, 0, 1e-6],
  ];
  const right = [0, 0, 0];
  let guess = 0;
  for (const p of points) {
    const { station, point, distance } = nearestPlace(to, p, guess);
    guess = station.segment;
    const n = leftOf(tangentAt(to.segments[station.segment]!, station.t));
    const gap = (p.x - point.x) * n.x + (p.y - point.y) * n.y;
    const weight = scale === Infinity ? 1 : 1 / (1 + (distance / scale) ** 2) ** 2;
    const row = [n.x, n.y, (p.x - middle.x) * n.y - (p.y - middle.y) * n.x];
    for (let i = 0; i < 3; i++) {
      right[i]! -= weight * row[i]! * gap;
      for (let j = 0; j < 3; j++) m[i]![j]! += weight * row[i]! * row[j]!;
    }
  }
  const solved = solve(m, right);
  if (solved === null) return null;
  const [dx, dy, turn] = solved;
  return turnAbout(middle, { x: middle.x + dx, y: middle.y + dy }, turn);
}

/** Solves three linear equations by Cramer's rule; null if they have no single solution. */
function solve(
  m: readonly (readonly number[])[],
  right: readonly number[],
): [number, number, number] | null {
  const det = (c: readonly (readonly number[])[]): number =>
    c[0]![0]! * (c[1]![1]! * c[2]![2]! - c[1]![2]! * c[2]![1]!) -
    c[0]![1]! * (c[1]![0]! * c[2]![2]! - c[1]![2]! * c[2]![0]!) +
    c[0]![2]! * (c[1]![0]! * c[2]![1]! - c[1]![1]! * c[2]![0]!);
  const whole = det(m);
  if (!Number.isFinite(whole) || Math.abs(whole) < 1e-30) return null;
  const column = (k: number): number =>
    det(m.map((row, i) => row.map((value, j) => (j === k ? right[i]! : value)))) / whole;
  return [column(0), column(1), column(2)];
}

/** A place agrees if it is within this distance of the other path, mm. */
const agreeing = 0.05;

/** The share of a path's points that a motion lays on the other path. */
function agreement(motion: Transform, from: Path, to: Path): number {
  const points = pointsEvenly(from);
  const measured = measurePath(to);
  if (measured.segments.length === 0) return 1;
  const on = points.filter(
    (point) => nearestPlace(measured, transformPoint(motion, point)).distance <= agreeing,
  );
  return on.length / points.length;
}
