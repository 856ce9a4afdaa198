import { growBox } from '../../geometry/paths/box.ts';
import { carrierCrossings } from '../../geometry/relations/crossings.ts';
import { placeInArea } from '../../geometry/relations/measured-area.ts';
import type { MeasuredPath } from '../../geometry/measuring/measured-path.ts';
import { measurePath, nearestPlace } from '../../geometry/measuring/measured-path.ts';
import { standAt } from '../../geometry/measuring/stand.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { polyline } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { distance, dot, minus, plus, times, unit } from '../../geometry/paths/point.ts';
import { boxOfSegment, nearestOnSegment } from '../../geometry/paths/segment.ts';
import { samePoint } from '../../geometry/paths/tolerance.ts';
import type { EdgeStretch } from '../../pattern/edges.ts';
import { traceTolerance } from '../../pattern/edges.ts';
import { mostLean } from '../../pattern/rules/notches.ts';
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

/**
 * The slit for a notch that is drawn on the net outline as a point or a straight line, `depth` mm deep. It
 * begins on the contour to cut, straight out from the drawn point or from the outer end of the line. It
 * runs straight in, or the way that the line runs: how long the line is says nothing. Where the finished
 * edge hides the allowance alone, the slit ends on the net outline at the latest.
 */
export function slitOf(drawn: Path, lines: EdgeLines, depth: number): Notch {
  const [net, cut] = [lines.net(), lines.cut()];
  const [outer, inner] = outerEndFirst(drawn, net);
  const { along, point, outward } = standAt(net, outer);
  const from = onCutLine(cut, point, outward);
  const heading = headingIn(outer, inner, outward);
  const hidden = hidesAllowance(kindAt(lines.stretches, along))
    ? toNetLine(net, point, from, heading)
    : depth;
  const room = roomFor(Math.min(depth, hidden), from, heading, cut);
  return { from, to: plus(from, times(heading, room)), at: point };
}

/**
 * The way that a slit runs: that of the drawn line, or straight in if that is too short to have a
 * direction, or runs along the edge.
 */
function headingIn(outer: Point, inner: Point, outward: Point): Point {
  const straight = times(outward, -1);
  if (distance(outer, inner) <= traceTolerance) return straight;
  const drawn = unit(minus(inner, outer));
  const least = Math.cos((mostLean * Math.PI) / 180);
  const lean = dot(drawn, straight);
  // What was drawn square to the edge runs exactly square to it, in spite of rounding.
  return lean < least || lean > 1 - 1e-9 ? straight : drawn;
}

/**
 * How far it is from a point on the cut line to the net outline along a heading, mm. Infinity: the two
 * lines are one there. `point`: the place on the net outline to which the cut line's point belongs.
 */
function toNetLine(net: MeasuredPath, point: Point, from: Point, heading: Point): number {
  const allowed = distance(point, from);
  if (allowed <= samePoint) return Infinity;
  const far = allowed / Math.cos((mostLean * Math.PI) / 180);
  const met = crossingsAlong(net, from, heading, far).map((p) => distance(from, p));
  return Math.min(...met, ...(met.length === 0 ? [allowed] : []));
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
 * Whether the finished edge hides the allowance and no more: it is sewn in, tucked under or turned back.
 * Tape hides what it covers; on raw edges there is nothing to hide a slit.
 */
function hidesAllowance(kind: EdgeKind): boolean {
  return kind === 'seam' || kind === 'tuck' || kind === 'turned';
}

/**
 * The depth of a slit, but at most half the distance to the other side of the part: a tongue or a tip may
 * be narrow.
 */
function roomFor(depth: number, from: Point, heading: Point, cut: MeasuredPath): number {
  const others = crossingsAlong(cut, from, heading, depth)
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
