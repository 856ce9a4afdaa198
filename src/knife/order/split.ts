import { headingDeg, turnDeg } from '../../geometry/paths/angle.ts';
import type { MeasuredPath } from '../../geometry/measuring/measured-path.ts';
import { measurePath, placeAlong } from '../../geometry/measuring/measured-path.ts';
import type { Path } from '../../geometry/paths/path.ts';

/** A stretch of a closed path. `to` may exceed the length of the path. */
export interface PathStretch {
  readonly from: number;
  readonly to: number;
}

/** Distance between the places at which a contour is sampled, mm. */
const step = 0.5;
/** How many degrees a contour may turn in all over the overlap of a join. */
const straight = 5;

/**
 * A closed contour that is longer than the bed, sampled at places about `step` mm apart, and the
 * stretches of it that are not cut yet.
 */
export interface LongContour {
  readonly measured: MeasuredPath;
  /** The x of each place, once round from the leftmost one. */
  readonly xs: readonly number[];
  /** How many degrees the contour has turned in all, left and right added up, before each place. */
  readonly turned: readonly number[];
  /** The length along the path at which the leftmost place lies, mm. */
  readonly first: number;
  /** The stretches that are not cut yet, as indexes of places from the leftmost one. */
  readonly pending: readonly PathStretch[];
}

/** Samples a closed contour (mm, lay's frame) of which nothing is cut yet. */
export function longContour(path: Path): LongContour {
  const measured = measurePath(path);
  const count = Math.ceil(measured.length / step);
  const places = Array.from({ length: count }, (_, i) =>
    placeAlong(measured, (i * measured.length) / count),
  );
  const left = places.reduce(
    (best, { point }, i) => (point.x < places[best]!.point.x ? i : best),
    0,
  );
  const round = [...places.slice(left), ...places.slice(0, left)];
  const turned = [0];
  for (const [i, { tangent }] of round.entries()) {
    if (i === 0) continue;
    const turn = turnDeg(headingDeg(round[i - 1]!.tangent), headingDeg(tangent));
    turned.push(turned[i - 1]! + Math.abs(turn));
  }
  return {
    measured,
    xs: round.map(({ point }) => point.x),
    turned,
    first: (left * measured.length) / count,
    pending: [{ from: 0, to: count }],
  };
}

/**
 * The stretches of a contour that are cut in a bite, mm along its path, and the contour with the
 * stretches that are left.
 */
export interface Split {
  readonly now: readonly PathStretch[];
  readonly later: LongContour;
}

/**
 * Divides what is not cut yet of a contour between this bite, which ends at x = `end`, and the next,
 * which begins at x = `next`. Where the contour goes from one bite to the other there is a join. It lies
 * where both bites reach, at the straightest place, and both bites cut on `overlap` / 2 past it.
 * Undefined if no place is straight enough.
 */
export function splitContour(
  contour: LongContour,
  next: number,
  end: number,
  overlap: number,
): Split | undefined {
  const [low, high] = [next + overlap / 2 + step, end - overlap / 2 - step];
  const now: PathStretch[] = [];
  const later: PathStretch[] = [];
  for (const stretch of contour.pending) {
    const joins = joinsOf(contour, stretch, low, high, overlap);
    if (joins === undefined) return undefined;
    const ends = [stretch.from, ...joins, stretch.to];
    let isNow = contour.xs[stretch.from % contour.xs.length]! < low;
    for (let i = 0; i + 1 < ends.length; i++) {
      (isNow ? now : later).push({ from: ends[i]!, to: ends[i + 1]! });
      isNow = !isNow;
    }
  }
  return {
    now: roundTheStart(now, contour.xs.length).map((stretch) =>
      alongPath(contour, stretch, overlap),
    ),
    later: { ...contour, pending: later },
  };
}

/** What is left of a contour, mm along its path, for a bite that holds all of it. */
export function restOf(contour: LongContour, overlap: number): PathStretch[] {
  return contour.pending.map((stretch) => alongPath(contour, stretch, overlap));
}

/** How far what is left of a contour reaches along the roll, mm from its start. */
export function reachOfRest({ pending, xs }: LongContour): number {
  return Math.max(
    ...pending.flatMap(({ from, to }) =>
      Array.from({ length: to - from }, (_, i) => xs[(from + i) % xs.length]!),
    ),
  );
}

/**
 * The first and the last stretch meet at the leftmost place. Nothing need be joined there, so they become
 * one.
 */
function roundTheStart(stretches: readonly PathStretch[], count: number): PathStretch[] {
  const first = stretches.find(({ from }) => from === 0);
  const last = stretches.find(({ to }) => to === count);
  if (first === undefined || last === undefined || first === last) return [...stretches];
  const others = stretches.filter((one) => one !== first && one !== last);
  return [{ from: last.from, to: count + first.to }, ...others];
}

function alongPath(
  { measured, xs, first }: LongContour,
  { from, to }: PathStretch,
  overlap: number,
): PathStretch {
  const each = measured.length / xs.length;
  const begin = (first + from * each - overlap / 2 + measured.length) % measured.length;
  return { from: begin, to: begin + (to - from) * each + overlap };
}

/**
 * The indexes of the places at which a stretch goes from this bite to the next or back, each at the
 * straightest place possible. `low` and `high` bound, in x, the zone in which joins may lie. Undefined if
 * one of them finds no straight place.
 */
function joinsOf(
  contour: LongContour,
  { from, to }: PathStretch,
  low: number,
  high: number,
  overlap: number,
): number[] | undefined {
  const { xs } = contour;
  const joins: number[] = [];
  let isNow = xs[from % xs.length]! < low;
  // The last place so far that only the present bite can cut: the join must come after it.
  let sure = from;
  for (let i = from; i < to; i++) {
    const x = xs[i % xs.length]!;
    if (isNow ? x < low : x > high) sure = i;
    if (isNow ? x <= high : x >= low) continue;
    const join = straightest(contour, sure + 1, i - 1, overlap);
    if (join === undefined) return undefined;
    joins.push(join);
    isNow = !isNow;
    sure = i;
  }
  return joins;
}

/**
 * The index, from `from` to `to`, around which the contour turns least over the length of the overlap.
 * Undefined if it turns too much there.
 */
function straightest(
  { turned, measured, xs }: LongContour,
  from: number,
  to: number,
  overlap: number,
): number | undefined {
  const reach = Math.ceil((overlap / 2) * (xs.length / measured.length)) + 1;
  const turnAt = (i: number): number =>
    turned[Math.min(i + reach, turned.length - 1)]! - turned[Math.max(0, i - reach)]!;
  let best: number | undefined;
  for (let i = from; i <= to; i++) {
    if (best === undefined || turnAt(i) < turnAt(best) - 1e-9) best = i;
  }
  return best !== undefined && turnAt(best) <= straight ? best : undefined;
}
