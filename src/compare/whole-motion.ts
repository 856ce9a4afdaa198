import { decimal } from '../base/numbers.ts';
import { counted } from '../base/wording.ts';
import { normalDeg } from '../geometry/paths/angle.ts';
import type { Path } from '../geometry/paths/path.ts';
import { pathLength } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import { distance } from '../geometry/paths/point.ts';
import type { Transform } from '../geometry/paths/transform.ts';
import {
  isMirror,
  transformDeg,
  transformPath,
  transformPoint,
} from '../geometry/paths/transform.ts';
import { motionsBetween, plainMotion, pointsEvenly, turnOf } from '../geometry/fitting/motions.ts';
import { isSamePlace } from '../geometry/fitting/deviation.ts';
import { standardAxis } from './axis-line.ts';
import type { Detail, Item } from './comparable.ts';
import type { Difference, Subject } from './difference.ts';
import { difference } from './difference.ts';
import type { MoveFrame } from './moves-in-words.ts';
import { wordMove } from './moves-in-words.ts';

type Pair = readonly [before: Item, after: Item];

/** So many of the longest outlines are asked where everything has gone; one of them is seldom the odd one. */
const asked = 6;

/**
 * The motion, perhaps with a mirror, that more than half of the pairs have made together; null: there is none, or
 * most have stayed. `tolerance` in mm.
 */
export function wholeMotion(pairs: readonly Pair[], tolerance: number): Transform | null {
  if (pairs.length < 2) return null;
  const stayed = pairs.filter(([a, b]) => isSamePlace(a.outline, b.outline, tolerance));
  if (2 * stayed.length >= pairs.length) {
    // Shapes that are their own image seem to stay; what lies in them shows it.
    const still = stayed.filter((pair) => agreeing(pair, null, tolerance) === 2);
    if (2 * still.length >= pairs.length) return null;
  }
  let best: { motion: Transform; score: number } | null = null;
  const tried: Transform[] = [];
  for (const [a, b] of candidatesIn(pairs)) {
    const plain = plainMotion(a.outline, b.outline, tolerance);
    const motions = [
      ...(plain === null ? [] : [plain]),
      ...motionsBetween(a.outline, b.outline, tolerance),
    ];
    for (const motion of motions) {
      if (tried.some((other) => isNear(motion, other))) continue;
      tried.push(motion);
      const score = sharers(pairs, motion, tolerance);
      if (best === null || score > best.score) best = { motion, score };
      if (score === 2 * pairs.length) return motion;
    }
  }
  return best !== null && best.score > pairs.length ? best.motion : null;
}

/** How much the middles of two things may come nearer to each other in a common motion, mm: they are known to so much. */
const sameApart = 0.5;

/** The longest pairs of which at least two have kept their distance: no motion but such a one takes both along. */
function candidatesIn(pairs: readonly Pair[]): Pair[] {
  const longest = pairs
    .toSorted(([a], [b]) => pathLength(b.outline) - pathLength(a.outline))
    .slice(0, asked)
    .map((pair) => ({ pair, middles: pair.map(({ outline }) => middleOfOutline(outline)) }));
  return longest
    .filter((one) =>
      longest.some((other) => {
        if (one === other) return false;
        const [was, is] = [0, 1].map((i) => distance(one.middles[i]!, other.middles[i]!));
        return Math.abs(was! - is!) <= sameApart;
      }),
    )
    .map(({ pair }) => pair);
}

function middleOfOutline(path: Path): Point {
  const points = pointsEvenly(path);
  const sum = points.reduce((a, b) => ({ x: a.x + b.x, y: a.y + b.y }));
  return { x: sum.x / points.length, y: sum.y / points.length };
}

/** Two for each pair that makes the motion whole, one for each of which the outline alone does. */
function sharers(pairs: readonly Pair[], motion: Transform, tolerance: number): number {
  return pairs.reduce((sum, pair) => sum + agreeing(pair, motion, tolerance), 0);
}

function agreeing([a, b]: Pair, motion: Transform | null, tolerance: number): 0 | 1 | 2 {
  const outline = motion === null ? a.outline : transformPath(motion, a.outline);
  if (!isSamePlace(outline, b.outline, tolerance)) return 0;
  const carried = motion === null ? a.details : detailsUnder(motion, a.details);
  const isThere = carried.every(({ role, path }) =>
    b.details.some((other) => other.role === role && isSamePlace(path, other.path, tolerance)),
  );
  return isThere ? 2 : 1;
}

function isNear(one: Transform, other: Transform): boolean {
  return (
    (['a', 'b', 'c', 'd'] as const).every((key) => Math.abs(one[key] - other[key]) < 1e-6) &&
    Math.hypot(one.e - other.e, one.f - other.f) < 1e-3
  );
}

/**
 * A common motion in words: `everything is moved by 40 mm to the right`. `pairs`: as they are once the motion is made.
 */
export function motionDifference(
  motion: Transform,
  pairs: readonly Pair[],
  frame: MoveFrame,
  subject: Subject,
  tolerance: number,
): Difference {
  const odd = pairs.filter((pair) => agreeing(pair, null, tolerance) === 0).length;
  const rest = odd === 0 ? '' : `, but for ${counted(odd, pairs[0]![0].what)}`;
  const what = subject.sheet === null ? 'everything' : 'the whole lay';
  if (isMirror(motion)) return difference('mirrored', subject, `${what} is mirrored${rest}.`);
  const turn = turnOf(motion);
  const by: Point = { x: motion.e, y: motion.f };
  if (Math.abs(turn) > 1e-3) {
    const words = `${what} is turned by ${decimal(turn, 2)} degrees counter-clockwise${rest}.`;
    return difference('turned', subject, words, { turnDeg: turn });
  }
  return difference('moved', subject, `${what} is moved by ${wordMove(by, frame)}${rest}.`, {
    distance: Math.hypot(by.x, by.y),
  });
}

/** Details under a transform that keeps their shape, or makes them larger. */
export function detailsUnder(transform: Transform, details: readonly Detail[]): Detail[] {
  return details.map((detail) =>
    standardAxis({ ...detail, path: transformPath(transform, detail.path) }),
  );
}

/** An item under a transform that keeps its shape, or makes it larger. */
export function itemUnder(transform: Transform, item: Item): Item {
  const { moves } = item;
  return {
    ...item,
    outline: transformPath(transform, item.outline),
    details: detailsUnder(transform, item.details),
    ...(item.pileDeg === undefined ? {} : { pileDeg: transformDeg(transform, item.pileDeg) }),
    ...(moves === undefined
      ? {}
      : {
          moves: {
            ...moves,
            start: transformPoint(transform, moves.start),
            headings: moves.headings.map((deg) => normalDeg(transformDeg(transform, deg))),
          },
        }),
  };
}
