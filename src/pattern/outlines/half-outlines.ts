import type { Entity, PathEntity } from '../../drawing/drawing.ts';
import { areaOf } from '../../geometry/paths/area.ts';
import { measurePath } from '../../geometry/measuring/measured-path.ts';
import { distanceToPath } from '../../geometry/measuring/nearest.ts';
import { boxesOverlap } from '../../geometry/paths/box.ts';
import { boxOfPath } from '../../geometry/paths/path.ts';
import type { Path, Vertex } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { cross, distance, dot, lengthOf, minus, plus, times } from '../../geometry/paths/point.ts';
import { placeInArea } from '../../geometry/relations/measured-area.ts';
import type { ChainLine } from '../dashes.ts';
import { chainLines, isStick } from '../dashes.ts';
import type { LayerMap } from '../layers.ts';
import { meaningOf } from '../layers.ts';
import type { OpenChain } from './outlines.ts';
import type { OutlineVotes } from './twins.ts';

/** An open outline of which both ends lie on a centreline, closed along that line. */
export interface HalfOutline {
  readonly contour: PathEntity;
  /** What is drawn of it. */
  readonly members: readonly PathEntity[];
  /** The centreline. */
  readonly axis: PathEntity;
  /** The dashes that it is drawn in. */
  readonly dashes: readonly PathEntity[];
}

/** The ends of a half outline lie this near to its centreline, mm. */
const onAxis = 1;

/** A half piece is at least so long along its centreline, and so wide, mm. */
const leastSide = 10;

/**
 * The half outlines of a group. An outline is on OUTLINE, or on the layer with the most votes if its own
 * says nothing; where no layer has a vote, on the layer of the largest. A centreline is a straight line on AXIS, or one on another
 * layer that says nothing which reaches from one end of the outline to the other.
 */
export function halfOutlines(
  { entities, chains }: { entities: readonly Entity[]; chains: readonly OpenChain[] },
  map: LayerMap,
  votes: OutlineVotes,
): HalfOutline[] {
  const open = entities.filter(isOpen);
  const chained = new Set<Entity>(chains.flatMap(({ members }) => members));
  const axes = axesAmong(open, chained, map);
  const loose = open
    .filter((entity) => !chained.has(entity) && canBeOutline(entity, map))
    .map((joined) => ({ joined, members: [joined] }));
  const all = [...chains, ...loose].flatMap((chain) => halfAt(chain, axes, map));
  const closed = entities.filter(
    (entity): entity is PathEntity =>
      entity.kind === 'path' && entity.path.closed && canBeOutline(entity, map),
  );
  const free = all.filter(({ contour }) => !closed.some(({ path }) => liesIn(contour.path, path)));
  const main = mainLayer(free, votes);
  return free.filter(
    ({ contour: { layer } }) => meaningOf(layer, map) !== null || layer.toUpperCase() === main,
  );
}

/** The entities with each half outline in the place of what is drawn of it. */
export function closedHalves(
  entities: readonly Entity[],
  halves: readonly HalfOutline[],
): readonly Entity[] {
  const members = new Set<Entity>(halves.flatMap((half) => half.members));
  return [
    ...entities.filter((entity) => !members.has(entity)),
    ...halves.map(({ contour }) => contour),
  ];
}

function mainLayer(halves: readonly HalfOutline[], votes: OutlineVotes): string | undefined {
  const ranked = [...votes].sort(([, a], [, b]) => b - a);
  if (ranked.length > 0) return ranked[0]![0];
  const bySize = halves.toSorted((a, b) => areaOf(b.contour.path) - areaOf(a.contour.path));
  return bySize[0]?.contour.layer.toUpperCase();
}

function canBeOutline({ layer }: Entity, map: LayerMap): boolean {
  const role = meaningOf(layer, map)?.role;
  return role === undefined || role === 'OUTLINE';
}

function isOpen(entity: Entity): entity is PathEntity {
  return entity.kind === 'path' && !entity.path.closed;
}

/** The lines that can be a centreline. One in dashes is one line. */
function axesAmong(
  open: readonly PathEntity[],
  chained: ReadonlySet<Entity>,
  map: LayerMap,
): ChainLine[] {
  const straight = open.filter(({ path, layer }) => {
    const role = meaningOf(layer, map)?.role;
    return isStick(path) && (role === undefined || role === 'AXIS');
  });
  const single = straight.filter((one) => chained.has(one));
  const layers = [...new Set(straight.map(({ layer }) => layer))];
  return [
    ...single.map((whole) => ({ whole, dashes: [whole] })),
    ...layers.flatMap((layer) =>
      chainLines(straight.filter((one) => one.layer === layer && !chained.has(one))),
    ),
  ];
}

function liesIn(path: Path, outer: Path): boolean {
  if (!boxesOverlap(boxOfPath(path), boxOfPath(outer))) return false;
  const area = measurePath(outer);
  return path.vertices.some((vertex) => placeInArea(area, vertex) === 'inside');
}

/** The half outline that a chain makes with the first line that can be its centreline. */
function halfAt(
  { joined, members }: OpenChain,
  axes: readonly ChainLine[],
  map: LayerMap,
): HalfOutline[] {
  const { vertices } = joined.path;
  const [first, last] = [vertices[0]!, vertices.at(-1)!];
  if (vertices.length < 3 || distance(first, last) < leastSide) return [];
  const named = ({ whole }: ChainLine): boolean => meaningOf(whole.layer, map) !== null;
  // The line that is drawn nearest to the ends is its own; the vehicle's may be drawn elsewhere.
  const away = ({ whole: { path } }: ChainLine): number =>
    distanceToPath(path, first) + distanceToPath(path, last);
  const found = axes
    .filter((one) => one.whole.layer !== joined.layer && closes(one.whole, named(one), vertices))
    .toSorted((a, b) => Number(named(b)) - Number(named(a)))
    .toSorted((a, b) => Number(away(a) > 2 * onAxis) - Number(away(b) > 2 * onAxis))
    .at(0);
  if (found === undefined) return [];
  const { whole: axis, dashes } = found;
  const [from, to] = axis.path.vertices as readonly [Vertex, Vertex];
  const onLine = <P extends Point>(vertex: P): P => ({ ...vertex, ...footOf(vertex, from, to) });
  const path: Path = {
    closed: true,
    vertices: [onLine(first), ...vertices.slice(1, -1), { ...onLine(last), bulge: 0 }],
  };
  return [{ contour: { ...joined, path }, members, axis, dashes }];
}

/**
 * Whether the ends of a line lie on a centreline and all of it on one side of that. A line on AXIS may be
 * shorter than the piece: it is the vehicle's.
 */
function closes({ path }: PathEntity, isNamed: boolean, vertices: readonly Point[]): boolean {
  const [from, to] = path.vertices as readonly [Vertex, Vertex];
  const along = unit(from, to);
  const offLine = (vertex: Point): number => cross(along, minus(vertex, from));
  const reaches = [vertices[0]!, vertices.at(-1)!].every((end) =>
    isNamed ? Math.abs(offLine(end)) <= onAxis : distanceToPath(path, end) <= onAxis,
  );
  if (!reaches) return false;
  let [least, most] = [Infinity, -Infinity];
  for (const vertex of vertices) {
    const off = offLine(vertex);
    if (off < least) least = off;
    if (off > most) most = off;
  }
  return Math.min(-least, most) <= onAxis && Math.max(-least, most) >= leastSide;
}

function unit(from: Point, to: Point): Point {
  const along = minus(to, from);
  return times(along, 1 / lengthOf(along));
}

function footOf(p: Point, from: Point, to: Point): Point {
  const along = unit(from, to);
  return plus(from, times(along, dot(minus(p, from), along)));
}
