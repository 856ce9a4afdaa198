import { growBox } from '../../geometry/paths/box.ts';
import { carrierCrossings } from '../../geometry/relations/crossings.ts';
import { placeInArea } from '../../geometry/relations/measured-area.ts';
import type { MeasuredPath } from '../../geometry/measuring/measured-path.ts';
import {
  cornerNear,
  measurePath,
  nearestPlace,
  placeAlong,
  stationLength,
} from '../../geometry/measuring/measured-path.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { polyline } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { distance, minus, plus, rightOf, times, unit } from '../../geometry/paths/point.ts';
import { boxOfSegment, nearestOnSegment, tangentAt } from '../../geometry/paths/segment.ts';
import { samePoint } from '../../geometry/paths/tolerance.ts';
import type { EdgeStretch } from '../../pattern/edges.ts';
import { traceTolerance } from '../../pattern/edges.ts';
import type { Material } from '../../pattern/shop/material.ts';
import type { EdgeKind } from '../../pattern/words.ts';
import type { Notch } from '../part.ts';

/**
 * The net outline of a part and its contour to cut, for what is drawn on the first and moved out to the
 * second. They are measured when they are first needed: most parts have neither notches nor drill marks.
 */
export interface EdgeLines {
  readonly net: () => MeasuredPath;
  readonly cut: () => MeasuredPath;
  /** The net outline divided by kinds of edge. */
  readonly stretches: readonly EdgeStretch[];
}

export function edgeLines(net: Path, cut: Path, stretches: readonly EdgeStretch[]): EdgeLines {
  return { net: once(() => measurePath(net)), cut: once(() => measurePath(cut)), stretches };
}

function once<T>(make: () => T): () => T {
  let made: T | undefined;
  return () => (made ??= make());
}

/** What is drawn within this distance of a corner (mm) stands on the corner. */
const atCorner = 0.01;

/**
 * The slit for a notch that is drawn on the net outline as a point or a line. It begins on the contour to
 * cut, straight out from the drawn point, or from the outer end of the line. For a line, it ends at the
 * inner end. For a point, it is as deep as the material says, but only as deep as the finished edge hides
 * it.
 */
export function slitOf(drawn: Path, lines: EdgeLines, material: Material): Notch {
  const [net, cut] = [lines.net(), lines.cut()];
  const [outer, inner] = outerEndFirst(drawn, net);
  const { along, point, outward } = standAt(net, outer);
  const from = onCutLine(cut, point, outward);
  if (distance(outer, inner) > samePoint) return { from, to: { x: inner.x, y: inner.y } };
  const depth = hiddenDepth(kindAt(lines.stretches, along), distance(point, from), material);
  return { from, to: minus(from, times(outward, roomFor(depth, from, outward, cut))) };
}

/**
 * A drill mark that is drawn on the net outline (within traceTolerance) is moved out to the cut line. Any
 * other stays where it is drawn.
 */
export function drillMark(drawn: Path, lines: EdgeLines): Path {
  const at = drawn.vertices[0]!;
  const net = lines.net();
  if (nearestPlace(net, at).distance > traceTolerance) return drawn;
  const { point, outward } = standAt(net, at);
  return polyline([onCutLine(lines.cut(), point, outward)], false);
}

/**
 * Both ends of a drawn notch. The one that is further out of the outline, or less far inside it, comes
 * first.
 */
function outerEndFirst({ vertices }: Path, net: MeasuredPath): [outer: Point, inner: Point] {
  const [first, last] = [vertices[0]!, vertices.at(-1)!];
  const height = (p: Point): number => {
    const off = nearestPlace(net, p).distance;
    return placeInArea(net, p) === 'outside' ? off : -off;
  };
  return height(first) >= height(last) ? [first, last] : [last, first];
}

/** A place on the net outline, and the direction straight out from it. */
interface Stand {
  /** Length along the outline from its start, mm. */
  readonly along: number;
  readonly point: Point;
  /** Unit vector. At a corner it points half way between the outward directions of the two sides. */
  readonly outward: Point;
}

/** The place on a counter-clockwise outline that is nearest to a point. */
function standAt(net: MeasuredPath, p: Point): Stand {
  const length = stationLength(net, nearestPlace(net, p).station);
  const corner = cornerNear(net, length);
  const along = (Math.abs(corner - length) <= atCorner ? corner : length) % net.length;
  const { station, point, tangent } = placeAlong(net, along);
  if (station.t > 0) return { along, point, outward: rightOf(tangent) };
  const before = net.segments[(station.segment + net.segments.length - 1) % net.segments.length]!;
  return { along, point, outward: rightOf(unit(plus(tangentAt(before, 1), tangent))) };
}

/** The point at which a line straight out from a point of the net outline first meets the cut line. */
function onCutLine(cut: MeasuredPath, p: Point, outward: Point): Point {
  const nearest = crossingsAlong(cut, p, outward, cut.length).sort(
    (a, b) => distance(p, a) - distance(p, b),
  )[0];
  if (nearest === undefined) throw new RangeError('a net outline lies outside its cut contour');
  return nearest;
}

/** The points at which a straight line from a point, along a heading and `far` mm long, meets a path. */
function crossingsAlong(path: MeasuredPath, from: Point, heading: Point, far: number): Point[] {
  const unitWay = { from, to: plus(from, heading), bulge: 0 };
  const way = { from, to: plus(from, times(heading, far)), bulge: 0 };
  return path.near(growBox(boxOfSegment(way), samePoint)).flatMap((i) => {
    const segment = path.segments[i]!;
    return carrierCrossings(unitWay, segment).filter(
      (p) =>
        nearestOnSegment(segment, p).distance <= samePoint &&
        nearestOnSegment(way, p).distance <= samePoint,
    );
  });
}

/**
 * How deep a slit may go without being seen, mm. Where the allowance is sewn in, tucked under or turned
 * back, the slit must not go past the net line, which is `allowed` mm further in. Under tape, on raw
 * edges and where there is no allowance, it is as deep as the material says.
 */
function hiddenDepth(kind: EdgeKind, allowed: number, { notchDepth }: Material): number {
  const hidesAllowance = kind === 'seam' || kind === 'tuck' || kind === 'turned';
  return hidesAllowance && allowed > samePoint ? Math.min(notchDepth, allowed) : notchDepth;
}

/**
 * The depth of a slit, but at most half the distance to the other side of the part: a tongue or a tip may
 * be narrow.
 */
function roomFor(depth: number, from: Point, outward: Point, cut: MeasuredPath): number {
  const others = crossingsAlong(cut, from, times(outward, -1), depth)
    .map((p) => distance(from, p))
    .filter((away) => away > 10 * samePoint);
  return Math.min(depth, ...others.map((away) => away / 2));
}

/** The kind of edge at a length along the net outline, mm from its start. */
function kindAt(stretches: readonly EdgeStretch[], at: number): EdgeKind {
  const found = stretches.find(({ from, to }) =>
    from < to ? from <= at && at < to : at >= from || at < to,
  );
  return (found ?? stretches[0]!).kind;
}
