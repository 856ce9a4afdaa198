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
 * A part's net outline and its contour to cut, for what moves out from the one to the other. They are
 * measured when they are first asked for: most parts have neither notches nor drill marks.
 */
export interface EdgeLines {
  readonly net: () => MeasuredPath;
  readonly cut: () => MeasuredPath;
  /** The stretches of the net outline. */
  readonly stretches: readonly EdgeStretch[];
}

export function edgeLines(net: Path, cut: Path, stretches: readonly EdgeStretch[]): EdgeLines {
  return { net: once(() => measurePath(net)), cut: once(() => measurePath(cut)), stretches };
}

function once<T>(make: () => T): () => T {
  let made: T | undefined;
  return () => (made ??= make());
}

/** What is drawn so near to a corner, mm, stands on the corner. */
const atCorner = 0.01;

/**
 * The slit of a notch drawn on the net outline. It begins on the contour to cut, straight out from where
 * it was drawn: from its outer end, where a line was drawn. It ends at the drawn inner end; where a point
 * was drawn it goes as deep as the material says, but no deeper than the edge's treatment hides.
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

/** A drill mark drawn on the net outline (within traceTolerance), moved out to the cut line; one further in as drawn. */
export function drillMark(drawn: Path, lines: EdgeLines): Path {
  const at = drawn.vertices[0]!;
  const net = lines.net();
  if (nearestPlace(net, at).distance > traceTolerance) return drawn;
  const { point, outward } = standAt(net, at);
  return polyline([onCutLine(lines.cut(), point, outward)], false);
}

/** The ends of what is drawn, the one further out of the outline, or less far in, first. */
function outerEndFirst({ vertices }: Path, net: MeasuredPath): [outer: Point, inner: Point] {
  const [first, last] = [vertices[0]!, vertices.at(-1)!];
  const height = (p: Point): number => {
    const off = nearestPlace(net, p).distance;
    return placeInArea(net, p) === 'outside' ? off : -off;
  };
  return height(first) >= height(last) ? [first, last] : [last, first];
}

/** A place on the net outline and the way straight out from it. */
interface Stand {
  /** mm along the outline. */
  readonly along: number;
  readonly point: Point;
  /** Unit vector; at a corner half way between its two sides. */
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

/** Where the way straight out from a point of the net outline first meets the cut line. */
function onCutLine(cut: MeasuredPath, p: Point, outward: Point): Point {
  const nearest = crossingsAlong(cut, p, outward, cut.length).sort(
    (a, b) => distance(p, a) - distance(p, b),
  )[0];
  if (nearest === undefined) throw new RangeError('a net outline lies outside its cut contour');
  return nearest;
}

/** The points at which a straight way of `far` mm, from a point along a heading, meets a path. */
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
 * How deep a slit may go and be out of sight, mm: not past the net line (`allowed` mm further in) where
 * the allowance is sewn in, tucked under or turned back; under tape, or under what covers a raw edge, and
 * where nothing is allowed, as deep as the shop's own depth for the material.
 */
function hiddenDepth(kind: EdgeKind, allowed: number, { notchDepth }: Material): number {
  const hidesAllowance = kind === 'seam' || kind === 'tuck' || kind === 'turned';
  return hidesAllowance && allowed > samePoint ? Math.min(notchDepth, allowed) : notchDepth;
}

/** The depth, or half of what there is to the other side of a tongue or a tip that is narrower. */
function roomFor(depth: number, from: Point, outward: Point, cut: MeasuredPath): number {
  const others = crossingsAlong(cut, from, times(outward, -1), depth)
    .map((p) => distance(from, p))
    .filter((away) => away > 10 * samePoint);
  return Math.min(depth, ...others.map((away) => away / 2));
}

/** What happens to the outline at a length (mm) from its start. */
function kindAt(stretches: readonly EdgeStretch[], at: number): EdgeKind {
  const found = stretches.find(({ from, to }) =>
    from < to ? from <= at && at < to : at >= from || at < to,
  );
  return (found ?? stretches[0]!).kind;
}
