/** How many points of 1/72 inch a mm has. */
const points = 72 / 25.4;

/** A length in mm as points of 1/72 inch. */
export function toPoints(mm: number): number {
  return mm * points;
}

/** A length in points of 1/72 inch as mm. */
export function fromPoints(length: number): number {
  return length / points;
}
