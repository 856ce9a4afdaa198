import type { Ring } from './polygon.ts';
import { cross, twiceArea } from './polygon.ts';

/**
 * An outline with fewer corners that holds all of the first: inside corners are bridged, and short
 * sides between outside corners are replaced by the point where their neighbours meet, the change
 * that adds least first, until `share` of the area has been added in all. Counter-clockwise in and out;
 * simple stays simple.
 */
export function simplified(ring: Ring, share: number): number[] {
  const points = Array.from({ length: ring.length / 2 }, (_, i): Corner => [
    ring[2 * i]!,
    ring[2 * i + 1]!,
  ]);
  let room = (share * twiceArea(ring)) / 2;
  for (;;) {
    const best = cheapest(points, room);
    if (best === null) return points.flat();
    room -= best.adds;
    best.apply(points);
  }
}

type Corner = readonly [x: number, y: number];

interface Change {
  /** Area. */
  readonly adds: number;
  readonly apply: (points: Corner[]) => void;
}

/** The change that adds least, in the order of what they add until one keeps the outline simple. */
function cheapest(points: readonly Corner[], room: number): Change | null {
  const n = points.length;
  if (n <= 4) return null;
  const changes: (Change & { readonly gone: number; readonly at: Corner | null })[] = [];
  for (let i = 0; i < n; i++) {
    const before = points[(i + n - 1) % n]!;
    const here = points[i]!;
    const next = points[(i + 1) % n]!;
    const after = points[(i + 2) % n]!;
    const turn = cross(...before, ...here, ...next);
    if (turn <= 0) {
      const adds = -turn / 2;
      if (adds <= room)
        changes.push({ adds, gone: i, at: null, apply: (all) => void all.splice(i, 1) });
      continue;
    }
    if (cross(...here, ...next, ...after) <= 0) continue;
    const meeting = meetingOf(before, here, next, after);
    if (meeting === null) continue;
    const adds = Math.abs(cross(...here, ...next, ...meeting)) / 2;
    if (adds > room) continue;
    changes.push({
      adds,
      gone: i,
      at: meeting,
      apply: (all) => {
        all[i] = meeting;
        all.splice((i + 1) % n, 1);
      },
    });
  }
  changes.sort((a, b) => a.adds - b.adds);
  return changes.find(({ gone, at }) => staysSimple(points, gone, at)) ?? null;
}

/** Where the sides before and after a side meet beyond it; null where they do not. */
function meetingOf(before: Corner, here: Corner, next: Corner, after: Corner): Corner | null {
  const ux = here[0] - before[0];
  const uy = here[1] - before[1];
  const vx = after[0] - next[0];
  const vy = after[1] - next[1];
  const det = ux * vy - uy * vx;
  if (det <= 1e-9 * Math.hypot(ux, uy) * Math.hypot(vx, vy)) return null;
  const t = ((next[0] - here[0]) * vy - (next[1] - here[1]) * vx) / det;
  return t < 0 ? null : [here[0] + ux * t, here[1] + uy * t];
}

/** Whether the new sides cross no other side. */
function staysSimple(points: readonly Corner[], i: number, at: Corner | null): boolean {
  const n = points.length;
  const before = (i + n - 1) % n;
  const last = (i + (at === null ? 1 : 2)) % n;
  const from = points[before]!;
  const to = points[last]!;
  const sides: [Corner, Corner][] =
    at === null
      ? [[from, to]]
      : [
          [from, at],
          [at, to],
        ];
  for (let k = last; k !== before; k = (k + 1) % n) {
    const a = points[k]!;
    const b = points[(k + 1) % n]!;
    for (const [p, q] of sides) {
      if (a === q || b === p || a === p || b === q) continue;
      if (segmentsMeet(p, q, a, b)) return false;
    }
  }
  return true;
}

function segmentsMeet(p: Corner, q: Corner, a: Corner, b: Corner): boolean {
  const d1 = cross(...p, ...q, ...a);
  const d2 = cross(...p, ...q, ...b);
  const d3 = cross(...a, ...b, ...p);
  const d4 = cross(...a, ...b, ...q);
  return d1 * d2 <= 0 && d3 * d4 <= 0 && !(d1 === 0 && d2 === 0 && d3 === 0 && d4 === 0);
}
