import { EndType, JoinType, Clipper } from 'clipper2-ts';
import { areaOf } from '../geometry/paths/area.ts';
import { flatten } from '../geometry/paths/flatten.ts';
import type { Path } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import { chordError } from '../geometry/paths/tolerance.ts';
import type { Part } from '../handing/part.ts';
import type { Ring } from './engine/polygon.ts';
import { twiceArea } from './engine/polygon.ts';

/** A part's contour as the engine lays it, in the part's own frame: outside counter-clockwise, holes clockwise. */
export interface GrownOutline {
  readonly outline: Ring;
  readonly holes: readonly Ring[];
}

/** A grown contour may lie further out than half the gap by so much, mm. */
const slack = 0.01;

/** Steps of the grid on which contours are grown, per mm. */
const gridPerMm = 1e4;

/**
 * Two parts keep the gap (mm) exactly where their outlines, each grown by half of it all round, do not
 * overlap; cutouts shrink by as much. Arcs are flattened to the side of the material, so that the
 * outline holds all of it. Cutouts of less than `leastArea` mm2, in which no part has room, are taken
 * as material.
 */
export function grownOutline(
  { cut, inner }: Pick<Part, 'cut' | 'inner'>,
  gap: number,
  leastArea = 0,
): GrownOutline {
  const cutouts = inner.map(({ path }) => path).filter((path) => areaOf(path) >= leastArea);
  const rings = grown(cut, cutouts, gap / 2).map(ringOf);
  const outer = rings.filter((ring) => twiceArea(ring) > 0);
  // Growing may close a bay in the outline. What is left of the bay is then a hole like any other.
  const outline = outer.reduce((most, ring) => (twiceArea(ring) > twiceArea(most) ? ring : most));
  return { outline, holes: rings.filter((ring) => twiceArea(ring) < 0) };
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

function ringOf(points: readonly Point[]): Ring {
  return points.flatMap(({ x, y }) => [x, y]);
}
