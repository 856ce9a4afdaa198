import type { Point } from './point.ts';

/** The same angle in [0, 360), in degrees. */
export function normalDeg(deg: number): number {
  const turned = deg % 360;
  // The second remainder catches -1e-17 + 360, which rounds to 360 itself; adding 0 clears minus zero.
  return (turned < 0 ? (turned + 360) % 360 : turned) + 0;
}

/** The turn from one heading to another by the shorter way, degrees in (-180, 180]. */
export function turnDeg(fromDeg: number, toDeg: number): number {
  const turn = normalDeg(toDeg - fromDeg);
  return turn > 180 ? turn - 360 : turn;
}

/** Direction of a vector, degrees counter-clockwise from +x, in (-180, 180]. */
export function headingDeg(vector: Point): number {
  return (Math.atan2(vector.y, vector.x) * 180) / Math.PI;
}

/**
 * The unit vector at an angle, degrees counter-clockwise from +x. It is exact at quarter turns, where
 * cosines and sines are not.
 */
export function headingOf(deg: number): Point {
  switch (normalDeg(deg)) {
    case 0:
      return { x: 1, y: 0 };
    case 90:
      return { x: 0, y: 1 };
    case 180:
      return { x: -1, y: 0 };
    case 270:
      return { x: 0, y: -1 };
    default: {
      const radians = (deg * Math.PI) / 180;
      return { x: Math.cos(radians), y: Math.sin(radians) };
    }
  }
}
