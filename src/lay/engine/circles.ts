import type { Ring } from './polygon.ts';
import { areaWithout, boxOf, depthIn } from './polygon.ts';

/** Circles inside a shape, the largest first; three numbers each: x, y, radius. */
export type Circles = Float64Array;

/** No more circles are added once they cover this share of the area, or once there are this many. */
const covered = 0.92;
const most = 20;

/**
 * Circles that stand for a shape when the severity of an overlap is worked out: each is the largest that
 * lies in the shape and outside those before it. Centres are points of a grid with `grid` points along
 * the larger side. `room` holds for each point the largest radius still possible there; after each new
 * circle no room reaches into that circle.
 */
export function circlesIn(outer: Ring, holes: readonly Ring[] = [], grid = 72): Circles {
  const rings = [outer, ...holes];
  const { points, room } = pointsInside(rings, grid);
  const area = areaWithout(outer, holes);
  const found: number[] = [];
  let sum = 0;
  while (sum < covered * area && found.length < 3 * most) {
    let best = 0;
    for (let i = 1; i < room.length; i++) if (room[i]! > room[best]!) best = i;
    const radius = room[best] ?? 0;
    if (!(radius > 0)) break;
    const x = points[2 * best]!;
    const y = points[2 * best + 1]!;
    found.push(x, y, radius);
    sum += Math.PI * radius * radius;
    for (let i = 0; i < room.length; i++) {
      const far = Math.hypot(points[2 * i]! - x, points[2 * i + 1]! - y) - radius;
      if (far < room[i]!) room[i] = far;
    }
  }
  return Float64Array.from(found);
}

/** The points of the grid that lie inside, as x, y, x, y ..., and for each its distance to the nearest side. */
function pointsInside(rings: readonly Ring[], grid: number): { points: number[]; room: number[] } {
  const { minX, minY, maxX, maxY } = boxOf(rings[0]!);
  const step = Math.max(maxX - minX, maxY - minY) / grid;
  // A thin shape still gets eight rows.
  const stepX = Math.min(step, (maxX - minX) / 8);
  const stepY = Math.min(step, (maxY - minY) / 8);
  const points: number[] = [];
  const room: number[] = [];
  // Far from the origin a step may be lost in the rounding: then there is a single row.
  const along = (from: number, to: number, by: number): number =>
    from + by > from ? from + by : to;
  for (let y = minY + stepY / 2; y < maxY; y = along(y, maxY, stepY)) {
    for (let x = minX + stepX / 2; x < maxX; x = along(x, maxX, stepX)) {
      const distance = depthIn(rings, x, y);
      if (distance <= 0) continue;
      points.push(x, y);
      room.push(distance);
    }
  }
  return { points, room };
}
