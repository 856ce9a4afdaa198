import { EndType, JoinType, Clipper } from 'clipper2-ts';
import { areaOf } from '../geometry/area.ts';
import type { Box } from '../geometry/box.ts';
import { boxOfPath } from '../geometry/box.ts';
import { flatten } from '../geometry/flatten.ts';
import type { Path } from '../geometry/path.ts';
import type { Point } from '../geometry/point.ts';
import { chordError } from '../geometry/tolerance.ts';
import { rotation as turning, transformPath } from '../geometry/transform.ts';
import type { Part } from '../handing/part.ts';
import type { Slices } from './slices.ts';
import { slicesOf } from './slices.ts';

/** A part's contour at one of its turns, its own origin at (0, 0), in mm along and across the roll. */
export interface Shape {
  /** Degrees. */
  readonly rotation: number;
  /** Of the cut contour itself, exact. */
  readonly box: Box;
  /** Of the contour grown by half the gap. */
  readonly slices: Slices;
}

/** What a grown contour may lie further out than half the gap, mm. */
const slack = 0.01;

/** Steps of the grid on which contours are grown, per mm. */
const gridPerMm = 1e4;

/**
 * Two shapes keep the gap (mm) exactly where, each grown by half of it all round, they do not
 * overlap; cutouts shrink by as much. Arcs are flattened to the side of the material, so that the
 * slices hold all of it. Cutouts of less than `leastArea` mm2, in which no part has room, are taken
 * as material: there are many, and slices cost by the vertex.
 */
export function shapeOf(part: Part, rotation: number, gap: number, leastArea = 0): Shape {
  const turn = turning(rotation);
  const cut = transformPath(turn, part.cut);
  const inner = part.inner
    .filter(({ path }) => areaOf(path) >= leastArea)
    .map(({ path }) => transformPath(turn, path));
  return { rotation, box: boxOfPath(cut), slices: slicesOf(grown(cut, inner, gap / 2)) };
}

function grown(cut: Path, inner: readonly Path[], by: number): Point[][] {
  const contours = [
    flatten(cut, chordError, 'outside'),
    ...inner.map((path) => flatten(path, chordError, 'inside').reverse()),
  ];
  if (by === 0) return contours;
  const onGrid = contours.map((points) =>
    points.map(({ x, y }) => ({ x: Math.round(x * gridPerMm), y: Math.round(y * gridPerMm) })),
  );
  // Round joins are chords of the true arcs and points are rounded to the grid: both may cut inwards.
  const reach = (by + slack) * gridPerMm;
  const tolerance = 0.9 * slack * gridPerMm;
  const paths = Clipper.inflatePaths(onGrid, reach, JoinType.Round, EndType.Polygon, 2, tolerance);
  return paths.map((path) => path.map(({ x, y }) => ({ x: x / gridPerMm, y: y / gridPerMm })));
}
