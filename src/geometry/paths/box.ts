import type { Point } from './point.ts';

/** A box in mm with sides along x and y. */
export interface Box {
  readonly minX: number;
  readonly minY: number;
  readonly maxX: number;
  readonly maxY: number;
}

/** A box that holds nothing. A union of boxes begins with it. */
export const emptyBox: Box = { minX: Infinity, minY: Infinity, maxX: -Infinity, maxY: -Infinity };

export function unionBox(a: Box, b: Box): Box {
  return {
    minX: Math.min(a.minX, b.minX),
    minY: Math.min(a.minY, b.minY),
    maxX: Math.max(a.maxX, b.maxX),
    maxY: Math.max(a.maxY, b.maxY),
  };
}

export function boxOfPoints(points: readonly Point[]): Box {
  let { minX, minY, maxX, maxY } = emptyBox;
  for (const { x, y } of points) {
    if (x < minX) minX = x;
    if (y < minY) minY = y;
    if (x > maxX) maxX = x;
    if (y > maxY) maxY = y;
  }
  return { minX, minY, maxX, maxY };
}

/** The box with every side moved outwards by `by` mm. */
export function growBox(box: Box, by: number): Box {
  return { minX: box.minX - by, minY: box.minY - by, maxX: box.maxX + by, maxY: box.maxY + by };
}

/** Whether the boxes share more than an edge. */
export function boxesOverlap(a: Box, b: Box): boolean {
  return a.minX < b.maxX && b.minX < a.maxX && a.minY < b.maxY && b.minY < a.maxY;
}

/** Whether each side of a box lies within a tolerance (mm) of the same side of the other. */
export function sameBox(a: Box, b: Box, tolerance: number): boolean {
  const sides = ['minX', 'minY', 'maxX', 'maxY'] as const;
  return sides.every((side) => Math.abs(a[side] - b[side]) <= tolerance);
}

/** Whether `inner` lies in `outer`; they may touch. */
export function boxContains(outer: Box, inner: Box): boolean {
  return (
    outer.minX <= inner.minX &&
    outer.minY <= inner.minY &&
    inner.maxX <= outer.maxX &&
    inner.maxY <= outer.maxY
  );
}

export function widthOf(box: Box): number {
  return box.maxX - box.minX;
}

export function heightOf(box: Box): number {
  return box.maxY - box.minY;
}

export function centreOf(box: Box): Point {
  return { x: (box.minX + box.maxX) / 2, y: (box.minY + box.maxY) / 2 };
}
