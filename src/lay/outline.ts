import { EndType, JoinType, Clipper } from 'clipper2-ts';
import { areaOf } from '../geometry/paths/area.ts';
import { flatten } from '../geometry/paths/flatten.ts';
import type { Path } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import { chordError } from '../geometry/paths/tolerance.ts';
import type { Part } from '../handing/part.ts';
import type { Ring } from './engine/engine.ts';
import { twiceArea } from './engine/engine.ts';

/**
 * The contour of a part as the engine sees it, in the part's own frame: outline counter-clockwise, holes
 * clockwise.
 */
export interface GrownOutline {
  readonly outline: Ring;
  readonly holes: readonly Ring[];
}

/** How much further out than half the gap a grown contour may lie, mm. */
const slack = 0.01;

/** Contours are grown on a grid with this many steps per mm. */
const gridPerMm = 1e4;

/**
 * The contour of a part, grown by half the gap (mm) all round; its cutouts shrink by as much. Two parts
 * keep the gap exactly if their grown contours do not overlap. Arcs are flattened so that the result
 * never leaves out material. Cutouts of less than `leastArea` mm2, in which no part has room, are left
 * out and count as material.
 */
export function grownOutline(
  { cut, inner }: Pick<Part, 'cut' | 'inner'>,
  gap: number,
  leastArea = 0,
): GrownOutline {
  const cutouts = inner.map(({ path }) => path).filter((path) => areaOf(path) >= leastArea);
  const rings = grown(cut, cutouts, gap / 2).map(ringOf);
  const outer = rings.filter((ring) => twiceArea(ring) > 0);
  // Growing may close a bay in the outline. What is left of the bay then becomes a hole like any other.
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
  // The library makes round corners of chords and rounds points to the grid. Both may cut inwards, so
  // contours are grown a little more.
  const reach = (by + slack) * gridPerMm;
  const tolerance = 0.9 * slack * gridPerMm;
  const paths = Clipper.inflatePaths(onGrid, reach, JoinType.Round, EndType.Polygon, 2, tolerance);
  return paths.map((path) => path.map(({ x, y }) => ({ x: x / gridPerMm, y: y / gridPerMm })));
}

function ringOf(points: readonly Point[]): Ring {
  return points.flatMap(({ x, y }) => [x, y]);
}
