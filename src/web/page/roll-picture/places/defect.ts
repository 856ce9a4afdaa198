import type { Point } from '../../../../geometry/paths/point.ts';

/**
 * The rectangle between two corners, as far as it lies on a roll of this width and length (null:
 * without end). Gives its corners [x, y] in whole mm, counter-clockwise; null where nothing of it lies
 * on the roll.
 */
export function defectBetween(
  a: Point,
  b: Point,
  { width, length }: { readonly width: number; readonly length: number | null },
): [[number, number], [number, number], [number, number], [number, number]] | null {
  const along = (x: number): number => clamped(x, length ?? Infinity);
  const across = (y: number): number => clamped(y, width);
  const [x0, x1] = [along(Math.min(a.x, b.x)), along(Math.max(a.x, b.x))];
  const [y0, y1] = [across(Math.min(a.y, b.y)), across(Math.max(a.y, b.y))];
  if (x1 <= x0 || y1 <= y0) return null;
  return [
    [x0, y0],
    [x1, y0],
    [x1, y1],
    [x0, y1],
  ];
}

function clamped(value: number, most: number): number {
  return Math.max(0, Math.min(Math.floor(most), Math.round(value)));
}
