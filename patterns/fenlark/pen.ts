import type { Entity } from '../../src/drawing/drawing.ts';
import { pathEntity, textEntity } from '../../src/drawing/entity-of.ts';
import { counterClockwise } from '../../src/geometry/paths/area.ts';
import { nearestOnPath } from '../../src/geometry/measuring/nearest.ts';
import type { Path, Vertex } from '../../src/geometry/paths/path.ts';
import { circle, polyline } from '../../src/geometry/paths/path.ts';
import type { Point } from '../../src/geometry/paths/point.ts';
import { distance, minus, plus, times, unit } from '../../src/geometry/paths/point.ts';
import { turnDeg, headingDeg } from '../../src/geometry/paths/angle.ts';
import { lengthAt, stretchOf } from '../../src/geometry/paths/stretch.ts';

/** x, y in mm; then the radius the corner is rounded with, or the bulge of the side that leaves it. */
export type Corner = readonly [
  x: number,
  y: number,
  how?: { readonly r?: number; readonly b?: number },
];

/** A closed outline through corners, counter-clockwise, rounded where a radius is given. */
export function outline(...corners: Corner[]): Path {
  const vertices = corners.flatMap((corner, i): Vertex[] => {
    const [x, y, how] = corner;
    if (how?.r === undefined) return [{ x, y, bulge: how?.b ?? 0 }];
    const before = corners[(i - 1 + corners.length) % corners.length]!;
    const after = corners[(i + 1) % corners.length]!;
    return rounded({ x, y }, pointOf(before), pointOf(after), how.r);
  });
  return counterClockwise({ closed: true, vertices });
}

function pointOf([x, y]: Corner): Point {
  return { x, y };
}

/** The two ends of the arc that rounds a corner, tangent to both sides. */
function rounded(corner: Point, before: Point, after: Point, radius: number): Vertex[] {
  const back = unit(minus(before, corner));
  const ahead = unit(minus(after, corner));
  const turn = turnDeg(headingDeg(times(back, -1)), headingDeg(ahead));
  const sweep = (turn * Math.PI) / 180;
  const reach = radius * Math.tan(Math.abs(sweep) / 2);
  if (reach > distance(corner, before) || reach > distance(corner, after)) {
    throw new RangeError(`radius ${radius} does not fit the corner at ${corner.x}, ${corner.y}`);
  }
  const start = plus(corner, times(back, reach));
  const end = plus(corner, times(ahead, reach));
  return [
    { ...start, bulge: Math.tan(sweep / 4) },
    { ...end, bulge: 0 },
  ];
}

export function box(x0: number, y0: number, x1: number, y1: number, r = 0): Path {
  const how = r === 0 ? {} : { r };
  return outline(
    [x0, y0, how.r === undefined ? {} : how],
    [x1, y0, how],
    [x1, y1, how],
    [x0, y1, how],
  );
}

export function hole(x: number, y: number, radius: number): Path {
  return circle({ x, y }, radius);
}

/** Straight lines one after the other. */
export function line(...places: (readonly [number, number])[]): Path {
  return polyline(
    places.map(([x, y]) => ({ x, y })),
    false,
  );
}

/** The stretch of an outline between the points nearest to two given ones, counter-clockwise. */
export function along(
  path: Path,
  from: readonly [number, number],
  to: readonly [number, number],
): Path {
  const at = ([x, y]: readonly [number, number]): number =>
    lengthAt(path, nearestOnPath(path, { x, y }).station);
  return stretchOf(path, at(from), at(to));
}

/** Something drawn: a layer and paths or points on it. */
export function on(layer: string, ...paths: Path[]): Entity[] {
  return paths.map((path) => pathEntity(layer, path));
}

export function points(layer: string, ...places: (readonly [number, number])[]): Entity[] {
  return places.map(([x, y]) => ({ kind: 'point', layer, line: 0, at: { x, y } }));
}

/** Points with a name beside each, by which the set file says what is done there. */
export function marks(
  layer: string,
  name: string,
  ...places: (readonly [number, number])[]
): Entity[] {
  return [
    ...points(layer, ...places),
    ...places.flatMap(([x, y]) => named(layer, name, x + 10, y + 10)),
  ];
}

export function note(text: string, x: number, y: number, height = 30): Entity {
  return textEntity('NOTE', text, { x, y }, height);
}

/** The name of the edge line or mark on a layer that is by a place. */
export function named(layer: string, name: string, x: number, y: number): Entity[] {
  return [textEntity(layer, name, { x, y }, 15)];
}
