import { boxIndex } from '../measuring/box-index.ts';
import { growBox, boxOfPoints } from '../paths/box.ts';
import type { Path, Vertex } from '../paths/path.ts';
import { pathLength, reversePath } from '../paths/path.ts';
import type { Point } from '../paths/point.ts';
import { between, distance } from '../paths/point.ts';
import { samePoint } from '../paths/tolerance.ts';
import { carrierCrossings } from '../relations/crossings.ts';

/** Two ends that did not meet. They were joined at `at`; they had been `size` mm apart. */
interface Gap {
  readonly at: Point;
  readonly size: number;
}

/**
 * A path made of other paths. `members`: the indexes of these, in the order in which the path goes
 * through them. `gaps`: those between them.
 */
export interface Chained {
  readonly path: Path;
  readonly members: readonly number[];
  readonly gaps: readonly Gap[];
}

interface Chaining {
  /**
   * Sorted by the lowest index among the members. Closed paths, and paths that nothing joins, are chains
   * of their own.
   */
  readonly chains: readonly Chained[];
  /**
   * Places where more than two ends meet. Nothing is joined there, because it would be a guess which two
   * belong together.
   */
  readonly branches: readonly Point[];
  /**
   * Indexes of open paths no longer than the tolerance of which neither end was joined to an end that
   * coincides with it. They are left out.
   */
  readonly slivers: readonly number[];
}

/**
 * Joins open paths where exactly two ends meet: first the ends that coincide, then those within
 * `tolerance` mm of each other. A path is reversed where the chain goes through it backwards. Straight lines
 * that end near a corner are lengthened or cut off there, so that neither turns; other ends that are joined
 * move to the middle between them.
 */
export function chained(paths: readonly Path[], tolerance: number): Chaining {
  const mates = new Map<number, number>();
  const open = paths.flatMap((path, i) => (path.closed ? [] : [i]));
  const ends = open.flatMap((i) => [2 * i, 2 * i + 1]);
  const exact = paired(paths, ends, samePoint, mates);
  const slivers = open.filter(
    (i) => !mates.has(2 * i) && !mates.has(2 * i + 1) && pathLength(paths[i]!) <= tolerance,
  );
  const dropped = new Set(slivers);
  const left = ends.filter(
    (end) => !mates.has(end) && !exact.busy.has(end) && !dropped.has(end >> 1),
  );
  const near = paired(paths, left, tolerance, mates);
  return {
    chains: walked(paths, mates, dropped),
    branches: [...exact.branches, ...near.branches],
    slivers,
  };
}

/**
 * Ends are numbered: 2 i is the first vertex of path i, 2 i + 1 its last. So `end >> 1` is the path of an
 * end, and `end ^ 1` the other end of that path.
 */
function endPoint(paths: readonly Path[], end: number): Point {
  const { vertices } = paths[end >> 1]!;
  const { x, y } = end % 2 === 0 ? vertices[0]! : vertices.at(-1)!;
  return { x, y };
}

/**
 * Looks for ends within `reach` mm of each other. Ends that meet exactly one other go into `mates`. The
 * result names the places where more than two meet, and in `busy` the ends that have a neighbour but no
 * mate.
 */
function paired(
  paths: readonly Path[],
  ends: readonly number[],
  reach: number,
  mates: Map<number, number>,
): { branches: Point[]; busy: Set<number> } {
  const points = ends.map((end) => endPoint(paths, end));
  const search = boxIndex(points.map((point) => boxOfPoints([point])));
  const near = points.map((point, i) =>
    search(growBox(boxOfPoints([point]), reach)).filter(
      (j) => j !== i && distance(points[j]!, point) <= reach,
    ),
  );
  const branches: Point[] = [];
  const told = new Set<number>();
  const busy = new Set<number>();
  for (const [i, others] of near.entries()) {
    const [only] = others;
    if (only === undefined) continue;
    if (others.length === 1 && near[only]!.length === 1) {
      mates.set(ends[i]!, ends[only]!);
      continue;
    }
    busy.add(ends[i]!);
    // All ends that meet here make one branch.
    if (others.length > 1 && !others.some((j) => told.has(j))) {
      told.add(i);
      branches.push(points[i]!);
    }
  }
  return { branches, busy };
}

function walked(
  paths: readonly Path[],
  mates: ReadonlyMap<number, number>,
  dropped: ReadonlySet<number>,
): Chained[] {
  const done = new Set<number>(dropped);
  const chains: Chained[] = [];
  const walk = (start: number): void => {
    const steps: number[] = [];
    let entry: number | undefined = start;
    while (entry !== undefined && !done.has(entry >> 1)) {
      done.add(entry >> 1);
      steps.push(entry);
      entry = mates.get(entry ^ 1);
    }
    const members = steps.map((end) => end >> 1);
    chains.push({ ...chainOf(paths, steps, entry !== undefined), members });
  };
  for (const [i, path] of paths.entries()) {
    if (done.has(i)) continue;
    if (path.closed) {
      done.add(i);
      chains.push({ path, members: [i], gaps: [] });
    } else {
      walk(firstEnd(i, mates));
    }
  }
  const lowest = ({ members }: Chained): number => members.reduce((a, b) => Math.min(a, b));
  return chains.sort((a, b) => lowest(a) - lowest(b));
}

/**
 * The end at which the chain with path i begins: a free end, or the first vertex of path i if the chain
 * is a ring.
 */
function firstEnd(i: number, mates: ReadonlyMap<number, number>): number {
  let start = 2 * i;
  for (;;) {
    const mate = mates.get(start);
    if (mate === undefined) return start;
    start = mate ^ 1;
    if (start >> 1 === i) return 2 * i;
  }
}

/**
 * Joins the paths that are entered at these ends, in this order. `ring`: the last one leads back to the
 * first.
 */
function chainOf(
  paths: readonly Path[],
  entries: readonly number[],
  ring: boolean,
): Pick<Chained, 'path' | 'gaps'> {
  const vertices: Vertex[] = [];
  const gaps: Gap[] = [];
  const joint = (last: Vertex, next: Vertex, after: Vertex | undefined): Vertex => {
    const size = distance(last, next);
    const at = jointPlace(vertices.at(-1), last, next, after);
    if (size > samePoint) gaps.push({ at, size });
    return { ...next, ...at };
  };
  for (const entry of entries) {
    const path = paths[entry >> 1]!;
    const [first, ...rest] = (entry % 2 === 0 ? path : reversePath(path)).vertices;
    const last = vertices.pop();
    vertices.push(last === undefined ? first! : joint(last, first!, rest[0]));
    for (const vertex of rest) vertices.push(vertex);
  }
  if (ring) vertices[0] = joint(vertices.pop()!, vertices[0]!, vertices[1]);
  return { path: { closed: ring, vertices }, gaps };
}

/** A corner may lie so many times the gap from either end; beyond, the lines are nearly one line. */
const farthestCorner = 1.5;

/** Where the end `last` of a line from `before`, and the beginning `next` of one to `after`, are joined. */
function jointPlace(
  before: Vertex | undefined,
  last: Vertex,
  next: Vertex,
  after: Vertex | undefined,
): Point {
  const middle = between(last, next, 0.5);
  const size = distance(last, next);
  const isStraight = before?.bulge === 0 && next.bulge === 0 && after !== undefined;
  if (size <= samePoint || !isStraight) return middle;
  const [corner] = carrierCrossings(
    { from: before, to: last, bulge: 0 },
    { from: next, to: after, bulge: 0 },
  );
  const isNear = (end: Point): boolean =>
    corner !== undefined && distance(corner, end) <= farthestCorner * size;
  return corner !== undefined && isNear(last) && isNear(next) ? corner : middle;
}
