/** A point or a vector in mm. The function that takes it says in which frame. */
export interface Point {
  readonly x: number;
  readonly y: number;
}

export function plus(a: Point, b: Point): Point {
  return { x: a.x + b.x, y: a.y + b.y };
}

export function minus(a: Point, b: Point): Point {
  return { x: a.x - b.x, y: a.y - b.y };
}

export function times(a: Point, factor: number): Point {
  return { x: a.x * factor, y: a.y * factor };
}

export function dot(a: Point, b: Point): number {
  return a.x * b.x + a.y * b.y;
}

/** The z component of the cross product: positive if b points to the left of a. */
export function cross(a: Point, b: Point): number {
  return a.x * b.y - a.y * b.x;
}

export function lengthOf(a: Point): number {
  // Not Math.hypot: several times slower, and its care for huge numbers is not needed in a workshop.
  return Math.sqrt(a.x * a.x + a.y * a.y);
}

export function distance(a: Point, b: Point): number {
  return lengthOf(minus(b, a));
}

/** The vector turned a quarter turn counter-clockwise. */
export function leftOf(a: Point): Point {
  return { x: -a.y, y: a.x };
}

/** The vector turned a quarter turn clockwise. */
export function rightOf(a: Point): Point {
  return { x: a.y, y: -a.x };
}

/** The vector of length 1 in the same direction; the zero vector stays zero. */
export function unit(a: Point): Point {
  const length = lengthOf(a);
  return length === 0 ? a : { x: a.x / length, y: a.y / length };
}

/** The point at share t of the way from a to b. */
export function between(a: Point, b: Point, t: number): Point {
  return { x: a.x + (b.x - a.x) * t, y: a.y + (b.y - a.y) * t };
}

/** The distance of a point from the endless line through two others, mm. */
export function distanceFromLine(
  { from, to }: { readonly from: Point; readonly to: Point },
  p: Point,
): number {
  return Math.abs(cross(unit(minus(to, from)), minus(p, from)));
}
