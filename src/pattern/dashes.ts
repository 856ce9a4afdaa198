import type { PathEntity } from '../drawing/drawing.ts';
import type { Path } from '../geometry/paths/path.ts';
import { polyline, segmentsOf } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import { cross, distance, dot, minus, unit } from '../geometry/paths/point.ts';
import type { Segment } from '../geometry/paths/segment.ts';

/** What lies within this distance of a straight line (mm) was meant to lie on it. */
const onLine = 0.1;

/** Two dashes of a chain line are no further apart than this, mm. */
export const widestDashGap = 30;

/**
 * The one straight line on which all of these lie, however many dashes it is drawn in: from the first end
 * to the last, the way that its longest dash runs. null: they lie on no one line.
 */
export function lineThrough(paths: readonly Path[]): Path | null {
  const [only, ...more] = paths;
  if (only === undefined) return null;
  if (more.length === 0 && isStick(only)) return only;
  if (paths.some(({ closed }) => closed)) return null;
  const sticks = paths.flatMap(segmentsOf);
  if (sticks.length === 0 || sticks.some(({ bulge }) => bulge !== 0)) return null;
  const longest = sticks.reduce((best, one) =>
    lengthOfStick(one) > lengthOfStick(best) ? one : best,
  );
  const along = unit(minus(longest.to, longest.from));
  const share = (p: Point): number => dot(minus(p, longest.from), along);
  const ends = sticks.flatMap(({ from, to }) => [from, to]);
  const first = ends.reduce((least, one) => (share(one) < share(least) ? one : least));
  const last = ends.reduce((most, one) => (share(one) > share(most) ? one : most));
  const whole = unit(minus(last, first));
  const isOn = (p: Point): boolean => Math.abs(cross(whole, minus(p, first))) <= onLine;
  return ends.every(isOn) ? polyline([first, last], false) : null;
}

/** A chain line and the dashes that it is drawn in: one, where it is drawn through. */
export interface ChainLine {
  readonly whole: PathEntity;
  readonly dashes: readonly PathEntity[];
}

/**
 * The straight lines of one layer, each with the dashes that follow each other on it. What lies on one line
 * with a wider gap between is not one: it may be another piece’s.
 */
export function chainLines(entities: readonly PathEntity[]): ChainLine[] {
  const chains: PathEntity[][] = [];
  for (const entity of entities.filter(({ path }) => isStick(path))) {
    const own = chains.filter((chain) => chain.some((one) => follows(one, entity)));
    for (const chain of own) chains.splice(chains.indexOf(chain), 1);
    chains.push([...own.flat(), entity]);
  }
  return chains.flatMap((dashes): ChainLine[] => {
    const path = lineThrough(dashes.map((dash) => dash.path));
    if (path === null) return dashes.map((dash) => ({ whole: dash, dashes: [dash] }));
    const line = Math.min(...dashes.map((dash) => dash.line));
    return [{ whole: dashes.length === 1 ? dashes[0]! : { ...dashes[0]!, path, line }, dashes }];
  });
}

/** The entities with every line that is drawn in so many dashes, or more, in one piece. */
export function withoutDashes(entities: readonly PathEntity[], fewest: number): PathEntity[] {
  const chains = chainLines(entities).filter(({ dashes }) => dashes.length >= fewest);
  if (chains.length === 0) return [...entities];
  const dashes = new Set(chains.flatMap((chain) => chain.dashes));
  return [...chains.map(({ whole }) => whole), ...entities.filter((one) => !dashes.has(one))];
}

function follows(one: PathEntity, other: PathEntity): boolean {
  if (lineThrough([one.path, other.path]) === null) return false;
  const ends = (path: Path): Point[] => [path.vertices[0]!, path.vertices[1]!];
  return (
    ends(one.path).some((a) => ends(other.path).some((b) => distance(a, b) <= widestDashGap)) ||
    overlap(one.path, other.path)
  );
}

function overlap(one: Path, other: Path): boolean {
  const [from, to] = [one.vertices[0]!, one.vertices[1]!];
  const along = unit(minus(to, from));
  const [a, b] = other.vertices.map((end) => dot(minus(end, from), along)) as [number, number];
  return Math.min(a, b) <= distance(from, to) && Math.max(a, b) >= 0;
}

/** Whether a path is one straight segment. */
export function isStick({ closed, vertices }: Path): boolean {
  return vertices.length === 2 && vertices[0]!.bulge === 0 && !closed;
}

function lengthOfStick({ from, to }: Segment): number {
  return distance(from, to);
}
