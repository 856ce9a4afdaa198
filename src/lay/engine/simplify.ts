import type { Ring } from './polygon.ts';
import { cornersOf, crossProduct, distanceToSide, roundingOf, twiceArea } from './polygon.ts';

/**
 * An outline with fewer corners that encloses the given one, since a simplified outline must never hide
 * an overlap. Two kinds of change are made: an inside corner is left out, which bridges it; and a side
 * between two outside corners is replaced by the point at which its neighbours, made longer, meet.
 *
 * First come all changes after which the outline lies nowhere further than `slack` outside the given one:
 * so vertices in one place become one, and what a straight side has of corners and teeth is levelled. Of
 * the others, the change that adds least area comes first, until `share` of the area has been added in all.
 *
 * What runs out and back along one line, a slot or a spike without width, is left out too: it encloses nothing.
 *
 * Counter-clockwise in and out; an outline that does not cross itself stays so. Of a clockwise ring, which
 * is a hole, the shape around it is what grows, and only the slack counts.
 */
export function simplified(ring: Ring, share: number, slack = 0): number[] {
  const limits = { slack, rounding: roundingOf(ring) };
  const linked = linkedRing(ring, limits);
  if (slack > 0) {
    reduce(linked, 3, limits, ({ beyond }) => beyond <= slack);
    for (const corner of around(linked)) weigh(corner, limits);
  }
  let room = (share * twiceArea(ring)) / 2;
  reduce(
    linked,
    4,
    limits,
    ({ adds }) => adds <= room,
    ({ adds }) => (room -= adds),
  );
  return around(linked).flatMap(({ at }) => at);
}

type CornerPair = readonly [x: number, y: number];

/** A corner in a ring of linked corners, and the change that is possible there. */
interface Linked {
  at: CornerPair;
  before: Linked;
  next: Linked;
  /** The given corners that the side from here to the next corner stands for; none: it lies further off than the slack. */
  stretch: readonly CornerPair[];
  /** How far outside the given outline that side lies, at most. */
  outside: number;
  /** The area that the change adds; Infinity: no change is possible. */
  adds: number;
  /** How far outside the given outline the sides that the change makes would lie, at most. */
  beyond: number;
  /** The corner that replaces this one and the next; null: this one is left out. */
  instead: CornerPair | null;
  /** Whether the sides that the change makes are parts of those that were there: they cross nothing new. */
  takesAway: boolean;
}

interface Limits {
  /** Changes that stay within it cost nothing. */
  readonly slack: number;
  /** What coordinates may be off. */
  readonly rounding: number;
}

/** A ring of linked corners, by any one of them. */
interface LinkedRing {
  some: Linked;
  count: number;
}

/** Makes the changes that are `allowed`, the one that adds least first, down to `least` corners. */
function reduce(
  ring: LinkedRing,
  least: number,
  limits: Limits,
  allowed: (corner: Linked) => boolean,
  made: (corner: Linked) => void = () => {},
): void {
  while (ring.count > least) {
    let best: Linked | null = null;
    let corner = ring.some;
    for (let k = 0; k < ring.count; k++, corner = corner.next) {
      if (corner.adds < (best?.adds ?? Infinity) && allowed(corner)) best = corner;
    }
    if (best === null) break;
    if (!staysSimple(best)) {
      // Not now. It is weighed again when a corner near it has changed.
      best.adds = Infinity;
      continue;
    }
    made(best);
    const some = change(best, limits);
    ring.some = some;
    ring.count--;
    for (const near of [some.before.before, some.before, some, some.next, some.next.next])
      weigh(near, limits);
  }
}

/** The corners of a ring in their order. */
function around({ some, count }: LinkedRing): Linked[] {
  const corners: Linked[] = [];
  for (let k = 0, corner = some; k < count; k++, corner = corner.next) corners.push(corner);
  return corners;
}

function linkedRing(ring: Ring, limits: Limits): LinkedRing {
  const corners = cornersOf(ring).map(
    (at) => ({ at, outside: 0, instead: null }) as unknown as Linked,
  );
  for (const [i, corner] of corners.entries()) {
    corner.next = corners[(i + 1) % corners.length]!;
    corner.next.before = corner;
    corner.stretch = [corner.at, corner.next.at];
  }
  for (const corner of corners) weigh(corner, limits);
  return { some: corners[0]!, count: corners.length };
}

/** Finds out which change is possible at a corner, and what it adds. */
function weigh(corner: Linked, { slack, rounding }: Limits): void {
  const { before, at, next } = corner;
  corner.adds = Infinity;
  corner.instead = null;
  corner.takesAway = lengthOf(before.at, at) === 0 || lengthOf(at, next.at) === 0;
  const loop =
    lengthOf(at, next.at) <= slack ? crossingOf(before.at, at, next.at, next.next.at) : null;
  if (loop !== null) {
    corner.adds = Math.abs(crossProduct(...at, ...next.at, ...loop)) / 2;
    corner.beyond = Math.max(before.outside, corner.outside, next.outside);
    corner.instead = loop;
    corner.takesAway = true;
    return;
  }
  const turn = crossProduct(...before.at, ...at, ...next.at);
  const thickness = thicknessOf(before.at, at, next.at, turn);
  // What runs out and back along one line encloses nothing, on whichever side of the outline it lies.
  const folds = thickness <= rounding && goesBack(before.at, at, next.at);
  if (turn <= 0 || folds) {
    corner.adds = Math.abs(turn) / 2;
    corner.beyond = Math.max(before.outside, corner.outside) + thickness;
    if (corner.beyond > slack && thickness <= slack) {
      corner.beyond = strayOf(joined(before, corner), before.at, next.at);
    }
    return;
  }
  if (crossProduct(...at, ...next.at, ...next.next.at) <= 0) return;
  const meeting =
    meetingOf(before.at, at, next.at, next.next.at) ??
    footOf(before.at, at, next.at, next.next.at, slack);
  if (meeting === null) return;
  corner.adds = Math.abs(crossProduct(...at, ...next.at, ...meeting)) / 2;
  corner.instead = meeting;
  corner.takesAway = false;
  const off = distanceToSide(...meeting, ...at, ...next.at);
  corner.beyond = Math.max(before.outside, corner.outside + off, next.outside);
  if (corner.beyond > slack && off <= slack) {
    corner.beyond = Math.max(
      strayOf(joined(before, corner), before.at, meeting),
      strayOf(joined(corner, next), meeting, next.next.at),
    );
  }
}

/** The given corners that two sides in a row stand for. */
function joined(side: Linked, following: Linked): readonly CornerPair[] {
  if (side.stretch.length === 0 || following.stretch.length === 0) return [];
  return [...side.stretch, ...following.stretch.slice(1)];
}

/**
 * How far the side from p to q lies from the given corners it stands for, at most. Their way runs from one end of
 * it to the other, so it passes above or below each of its points, never further off than one of its corners is. Ends
 * past which it does not reach are no further off than its own end. Infinity: not known.
 */
function strayOf(stretch: readonly CornerPair[], p: CornerPair, q: CornerPair): number {
  const length = lengthOf(p, q);
  if (stretch.length === 0 || length === 0) return Infinity;
  const along = ([x, y]: CornerPair): number =>
    ((x - p[0]) * (q[0] - p[0]) + (y - p[1]) * (q[1] - p[1])) / length;
  const [first, last] = [stretch[0]!, stretch.at(-1)!];
  const ends = [
    along(first) > 0 ? lengthOf(first, p) : 0,
    along(last) < length ? lengthOf(last, q) : 0,
  ];
  const aside = stretch.map((corner) => Math.abs(crossProduct(...p, ...q, ...corner)) / length);
  return Math.max(...ends, ...aside);
}

/** Makes the change. Returns a corner that is still in the ring. */
function change(corner: Linked, { slack }: Limits): Linked {
  const { before, next, instead, beyond } = corner;
  before.stretch = beyond > slack ? [] : joined(before, corner);
  before.outside = beyond;
  if (instead === null) {
    before.next = next;
    next.before = before;
    return next;
  }
  corner.stretch = beyond > slack ? [] : joined(corner, next);
  corner.outside = beyond;
  corner.at = instead;
  corner.next = next.next;
  corner.next.before = corner;
  return corner;
}

/** How thin the triangle a, b, c is, of twice the area `turn`: its smallest height. */
function thicknessOf(a: CornerPair, b: CornerPair, c: CornerPair, turn: number): number {
  const longest = Math.max(lengthOf(a, b), lengthOf(b, c), lengthOf(c, a));
  return longest === 0 ? 0 : Math.abs(turn) / longest;
}

function lengthOf([ax, ay]: CornerPair, [bx, by]: CornerPair): number {
  return Math.sqrt((bx - ax) * (bx - ax) + (by - ay) * (by - ay));
}

/** Whether the way from a to b to c turns back at b. */
function goesBack([ax, ay]: CornerPair, [bx, by]: CornerPair, [cx, cy]: CornerPair): boolean {
  return (bx - ax) * (cx - bx) + (by - ay) * (cy - by) < 0;
}

/**
 * Where the side a to b crosses the side c to d; null: nowhere. The side from b to c, if it is short, is then no
 * more than a loop at a corner that was written twice.
 */
function crossingOf(a: CornerPair, b: CornerPair, c: CornerPair, d: CornerPair): CornerPair | null {
  const from = crossProduct(...c, ...d, ...a);
  const to = crossProduct(...c, ...d, ...b);
  if (from * to >= 0 || crossProduct(...a, ...b, ...c) * crossProduct(...a, ...b, ...d) >= 0)
    return null;
  const t = from / (from - to);
  return [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];
}

/** Where the side before and the side after the side from `here` to `next` meet if made longer; null: nowhere. */
function meetingOf(
  before: CornerPair,
  here: CornerPair,
  next: CornerPair,
  after: CornerPair,
): CornerPair | null {
  const ux = here[0] - before[0];
  const uy = here[1] - before[1];
  const vx = after[0] - next[0];
  const vy = after[1] - next[1];
  const det = ux * vy - uy * vx;
  if (det <= 1e-9 * Math.hypot(ux, uy) * Math.hypot(vx, vy)) return null;
  const t = ((next[0] - here[0]) * vy - (next[1] - here[1]) * vx) / det;
  return t < 0 ? null : [here[0] + ux * t, here[1] + uy * t];
}

/**
 * Where two parallel sides are joined that lie in one line, within the slack: on the first, made longer as far
 * as the second begins. Null: they lie further apart, or run against each other.
 */
function footOf(
  before: CornerPair,
  here: CornerPair,
  next: CornerPair,
  after: CornerPair,
  slack: number,
): CornerPair | null {
  const ux = here[0] - before[0];
  const uy = here[1] - before[1];
  if (ux * (after[0] - next[0]) + uy * (after[1] - next[1]) <= 0) return null;
  const t = ((next[0] - here[0]) * ux + (next[1] - here[1]) * uy) / (ux * ux + uy * uy);
  const foot: CornerPair = [here[0] + ux * t, here[1] + uy * t];
  return t < 0 || lengthOf(foot, next) > slack ? null : foot;
}

/** Whether the sides that the change makes would cross no other side. */
function staysSimple({ before: first, next, instead, takesAway }: Linked): boolean {
  if (takesAway) return true;
  const from = first.at;
  const last = instead === null ? next : next.next;
  const to = last.at;
  const corners = instead === null ? [from, to] : [from, instead, to];
  const minX = Math.min(...corners.map(([x]) => x));
  const maxX = Math.max(...corners.map(([x]) => x));
  const minY = Math.min(...corners.map(([, y]) => y));
  const maxY = Math.max(...corners.map(([, y]) => y));
  for (let side = last; side !== first; side = side.next) {
    const a = side.at;
    const b = side.next.at;
    if ((a[0] < minX && b[0] < minX) || (a[0] > maxX && b[0] > maxX)) continue;
    if ((a[1] < minY && b[1] < minY) || (a[1] > maxY && b[1] > maxY)) continue;
    for (let k = 0; k + 1 < corners.length; k++) {
      const p = corners[k]!;
      const q = corners[k + 1]!;
      if (a === q || b === p || a === p || b === q) continue;
      if (segmentsMeet(p, q, a, b)) return false;
    }
  }
  return true;
}

function segmentsMeet(p: CornerPair, q: CornerPair, a: CornerPair, b: CornerPair): boolean {
  const d1 = crossProduct(...p, ...q, ...a);
  const d2 = crossProduct(...p, ...q, ...b);
  const d3 = crossProduct(...a, ...b, ...p);
  const d4 = crossProduct(...a, ...b, ...q);
  return d1 * d2 <= 0 && d3 * d4 <= 0 && !(d1 === 0 && d2 === 0 && d3 === 0 && d4 === 0);
}
