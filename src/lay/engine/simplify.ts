import type { Ring } from './polygon.ts';
import { cornersOf, crossProduct, twiceArea } from './polygon.ts';

/**
 * An outline with fewer corners that encloses the given one, since a simplified outline must never hide
 * an overlap. Two kinds of change are made: an inside corner is left out, which bridges it; and a side
 * between two outside corners is replaced by the point at which its neighbours, made longer, meet. The
 * change that adds least area comes first, until `share` of the area has been added in all.
 * Counter-clockwise in and out; an outline that does not cross itself stays so.
 */
export function simplified(ring: Ring, share: number): number[] {
  const corners = linkedCorners(ring);
  let count = corners.length;
  let some = corners[0]!;
  for (const corner of corners) weigh(corner);
  let room = (share * twiceArea(ring)) / 2;
  while (count > 4) {
    let best: Linked | null = null;
    let corner = some;
    for (let k = 0; k < count; k++, corner = corner.next) {
      if (corner.adds <= room && (best === null || corner.adds < best.adds)) best = corner;
    }
    if (best === null) break;
    if (!staysSimple(best)) {
      // Not now. It is weighed again when a corner near it has changed.
      best.adds = Infinity;
      continue;
    }
    room -= best.adds;
    some = change(best);
    count--;
    for (const near of [some.before.before, some.before, some, some.next, some.next.next])
      weigh(near);
  }
  const kept: number[] = [];
  for (let k = 0; k < count; k++, some = some.next) kept.push(...some.at);
  return kept;
}

type CornerPair = readonly [x: number, y: number];

/** A corner in a ring of linked corners, and the change that is possible there. */
interface Linked {
  at: CornerPair;
  before: Linked;
  next: Linked;
  /** The area that the change adds; Infinity: no change is possible. */
  adds: number;
  /** The corner that replaces this one and the next; null: this one is left out. */
  instead: CornerPair | null;
}

function linkedCorners(ring: Ring): Linked[] {
  const corners = cornersOf(ring).map(
    (at) => ({ at, adds: Infinity, instead: null }) as unknown as Linked,
  );
  for (const [i, corner] of corners.entries()) {
    corner.next = corners[(i + 1) % corners.length]!;
    corner.next.before = corner;
  }
  return corners;
}

/** Finds out which change is possible at a corner, and what it adds. */
function weigh(corner: Linked): void {
  const { before, at, next } = corner;
  corner.adds = Infinity;
  corner.instead = null;
  const turn = crossProduct(...before.at, ...at, ...next.at);
  if (turn <= 0) {
    corner.adds = -turn / 2;
    return;
  }
  if (crossProduct(...at, ...next.at, ...next.next.at) <= 0) return;
  const meeting = meetingOf(before.at, at, next.at, next.next.at);
  if (meeting === null) return;
  corner.adds = Math.abs(crossProduct(...at, ...next.at, ...meeting)) / 2;
  corner.instead = meeting;
}

/** Makes the change. Returns a corner that is still in the ring. */
function change(corner: Linked): Linked {
  if (corner.instead === null) {
    corner.before.next = corner.next;
    corner.next.before = corner.before;
    return corner.next;
  }
  corner.at = corner.instead;
  corner.next = corner.next.next;
  corner.next.before = corner;
  return corner;
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

/** Whether the sides that the change makes would cross no other side. */
function staysSimple({ before: first, next, instead }: Linked): boolean {
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
