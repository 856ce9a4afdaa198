import type { Point } from '../../../../geometry/paths/point.ts';

/** How a defect is drawn: a box from corner to corner, a ring from its middle outwards, a line from end to end. */
export type DefectShape = 'box' | 'ring' | 'line';

/** A polygon that no part may touch: [along, across] in whole mm for each corner. */
export type DefectCorners = [number, number][];

/** A ring is kept as a polygon of so many corners, which has the whole ring in it. */
export const ringCorners = 16;

/** What of a roll is of use here, mm; no length: it has no end. */
interface RollSize {
  readonly width: number;
  readonly length: number | null;
}

/**
 * The defect that is drawn from one point to another, mm on the roll. A line is kept as wide as `lineWidth`, mm. null:
 * nothing of it lies on the roll, or it has no size.
 */
export function drawnDefect(
  shape: DefectShape,
  a: Point,
  b: Point,
  roll: RollSize,
  lineWidth: number,
): DefectCorners | null {
  if (shape === 'box') return defectBetween(a, b, roll);
  const distance = Math.hypot(b.x - a.x, b.y - a.y);
  if (Math.round(distance) < 1) return null;
  const corners = shape === 'ring' ? ringAround(a, distance) : lineBetween(a, b, lineWidth);
  return isOnRoll(corners, roll) ? corners : null;
}

/** A ring about a point as a polygon around it, so that nothing of the ring is left out; mm. */
export function ringAround({ x, y }: Point, radius: number): DefectCorners {
  const out = radius / Math.cos(Math.PI / ringCorners);
  return Array.from({ length: ringCorners }, (_, i): [number, number] => {
    const angle = (2 * Math.PI * (i + 0.5)) / ringCorners;
    return [roundedOut(x, out * Math.cos(angle)), roundedOut(y, out * Math.sin(angle))];
  });
}

/** A line as the oblong that reaches half its width, mm, past it on all sides. */
export function lineBetween(a: Point, b: Point, width: number): DefectCorners {
  const long = Math.hypot(b.x - a.x, b.y - a.y) || 1;
  const [ux, uy] = [(b.x - a.x) / long, (b.y - a.y) / long];
  const half = width / 2;
  const corner = (at: Point, on: number, aside: number): [number, number] => [
    roundedOut(at.x, half * (on * ux - aside * uy)),
    roundedOut(at.y, half * (on * uy + aside * ux)),
  ];
  return [corner(a, -1, -1), corner(b, 1, -1), corner(b, 1, 1), corner(a, -1, 1)];
}

/** A number moved by an offset, to the whole mm that is farther away. */
function roundedOut(from: number, offset: number): number {
  return offset < 0 ? Math.floor(from + offset) : Math.ceil(from + offset);
}

function isOnRoll(corners: DefectCorners, { width, length }: RollSize): boolean {
  const xs = corners.map(([x]) => x);
  const ys = corners.map(([, y]) => y);
  return (
    Math.max(...xs) > 0 &&
    Math.min(...xs) < (length ?? Infinity) &&
    Math.max(...ys) > 0 &&
    Math.min(...ys) < width
  );
}

/**
 * The rectangle between two corners, as far as it lies on a roll of this width and length (null:
 * without end). Gives its corners [x, y] in whole mm, counter-clockwise; null where nothing of it lies
 * on the roll.
 */
export function defectBetween(
  a: Point,
  b: Point,
  { width, length }: RollSize,
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
