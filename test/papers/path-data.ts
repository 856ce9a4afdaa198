import type { Contour } from '../support/contours.ts';

/**
 * The closed contours of an SVG path of M, L, A and Z, corners with the bulge of the side that leaves
 * them: positive where the arc's sweep flag is set, as for angles from +x to +y.
 */
export function contoursOfPath(d: string): Contour[] {
  const contours: { x: number; y: number; bulge: number }[][] = [];
  for (const [, letter, numbers] of d.matchAll(/([A-Za-z])([^A-Za-z]*)/g)) {
    const values = numbers!.trim().split(/\s+/).map(Number);
    const [x, y] = values.slice(-2) as [number, number];
    const contour = contours.at(-1);
    if (letter === 'M') contours.push([{ x, y, bulge: 0 }]);
    else if (letter === 'L') contour!.push({ x, y, bulge: 0 });
    else if (letter === 'A') {
      contour!.at(-1)!.bulge = bulgeTo(contour!.at(-1)!, values);
      contour!.push({ x, y, bulge: 0 });
    } else if (letter !== 'Z') throw new Error(`${letter} in a contour`);
  }
  return contours.map(withoutRepeatedStart);
}

/** From the flags of an elliptical arc of one radius. */
function bulgeTo(from: { x: number; y: number }, values: readonly number[]): number {
  const [radius, , , isLarge, sweep, x, y] = values as [number, ...number[]];
  const half = Math.asin(Math.min(1, Math.hypot(x! - from.x, y! - from.y) / 2 / radius));
  const angle = isLarge === 1 ? 2 * Math.PI - 2 * half : 2 * half;
  return Math.tan(angle / 4) * (sweep === 1 ? 1 : -1);
}

/** The last side is drawn back to the start before Z. */
function withoutRepeatedStart(contour: Contour): Contour {
  const [first, last] = [contour[0]!, contour.at(-1)!];
  return first.x === last.x && first.y === last.y ? contour.slice(0, -1) : contour;
}
