import { boxOfPoints, growBox } from '../../geometry/paths/box.ts';
import type { BoxIndex } from '../../geometry/measuring/box-index.ts';
import { boxIndex } from '../../geometry/measuring/box-index.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { distance } from '../../geometry/paths/point.ts';
import type { Segment } from '../../geometry/paths/segment.ts';
import {
  arcOf,
  boxOfSegment,
  nearestOnSegment,
  partOfSegment,
  pointAt,
  segmentLength,
} from '../../geometry/paths/segment.ts';
import type { MeasuredPath } from '../../geometry/measuring/measured-path.ts';
import { nearestPlace, placeAlong, stationLength } from '../../geometry/measuring/measured-path.ts';
import type { ExpectedCut } from '../record/expected.ts';
import type { Stroke } from '../reading/trace.ts';

/**
 * A stroke must be this near to its contour, mm. This allows for rounding, the chords of a dragged tip,
 * and turns left to the next stroke.
 */
export const onContour = 0.05;
/**
 * Distance between the points at which strokes and contours are compared, mm: in general, and near the
 * ends of strokes, where a gap would be.
 */
const spacing = 1;
const closeSpacing = 0.1;

/** A point of a stroke, and the line of the program that made it. */
interface StrokePoint {
  readonly point: Point;
  readonly line: number;
}

/** Which strokes lie on which cuts, by their indexes. */
export interface Coverage {
  /**
   * For each stroke, the cuts on which it lies from end to end. There are two if contours share an edge.
   */
  readonly cutsOf: readonly (readonly number[])[];
  /** For each cut, the strokes that lie on it. */
  readonly strokesOf: readonly (readonly number[])[];
  /** For each stroke that lies on no cut, the point at which it leaves them. */
  readonly astray: readonly (StrokePoint | undefined)[];
  /** For each cut, the first point that no stroke reaches. */
  readonly uncut: readonly (Point | undefined)[];
}

/**
 * A cut, and what of it must be reached. `needed` tells that for a place, mm along the cut. `neededOf`
 * gives the stretch that is needed of a segment, mm along the cut; undefined: the segment need not be
 * reached at all.
 */
export interface CutToCover extends ExpectedCut {
  readonly measured: MeasuredPath;
  needed(along: number): boolean;
  neededOf(segment: number): readonly [from: number, to: number] | undefined;
}

/**
 * Which strokes lie on which cuts, and where the cuts are not reached.
 *
 * The idea: a stroke begins with all cuts near its start, and step by step keeps those on which it still
 * lies. If none is left, it has gone astray. For each cut the strokes that were kept must then reach all
 * of it. To compare points every millimetre would be slow, so segments are first compared as a whole
 * (wholeOn), and points are only looked at where that decides nothing.
 */
export function coverageOf(strokes: readonly Stroke[], cuts: readonly CutToCover[]): Coverage {
  const onCuts = waysOf(cuts.map(({ measured }) => measured.segments));
  const matched = strokes.map((stroke) => match(stroke, onCuts));
  const cutsOf = matched.map(({ owners }) => owners);
  const onStrokes = waysOf(strokes.map(({ steps }) => steps.map(({ segment }) => segment)));
  const strokesOf = inverse(cutsOf, cuts.length);
  const uncut = cuts.map((cut, i) => uncutPlace(cut, new Set(strokesOf[i]), strokes, onStrokes));
  return { cutsOf, strokesOf, astray: matched.map(({ astray }) => astray), uncut };
}

/** For each value below `count`, the indexes of the lists that hold it, rising. */
function inverse(lists: readonly (readonly number[])[], count: number): number[][] {
  const places = Array.from({ length: count }, (): number[] => []);
  for (const [place, values] of lists.entries()) {
    for (const value of values) places[value]!.push(place);
  }
  return places;
}

/** Length of a stroke, mm. */
export function strokeLength({ steps }: Stroke): number {
  return steps.reduce((sum, { segment }) => sum + segmentLength(segment), 0);
}

/** The segments of all strokes, or of all cuts, indexed by place. A group is one stroke or one cut. */
interface Ways {
  readonly segments: readonly Segment[];
  /** The group of each segment. */
  readonly owners: readonly number[];
  /** The segments whose boxes meet a box. */
  readonly near: BoxIndex;
  /** The indexes of the segments within onContour of a point. */
  readonly at: (p: Point) => number[];
}

function waysOf(groups: readonly (readonly Segment[])[]): Ways {
  const segments = groups.flat();
  const owners = groups.flatMap((own, owner) => own.map(() => owner));
  const index = boxIndex(segments.map(boxOfSegment));
  return {
    segments,
    owners,
    near: index,
    at: (p) =>
      index(growBox(boxOfPoints([p]), onContour)).filter(
        (i) => nearestOnSegment(segments[i]!, p).distance <= onContour,
      ),
  };
}

/**
 * The groups that have a segment on which the given one lies as a whole. `ends` holds, for each of its
 * marks (see marksOf), the indexes of the segments there.
 *
 * It is enough to look at both ends, and for an arc also at its middle: the distance to a straight
 * segment is greatest at an end, and arcs of one circle lie on each other between points that do.
 */
function wholeOn(segment: Segment, ends: readonly (readonly number[])[], ways: Ways): number[] {
  const [first, ...others] = ends;
  return first!
    .filter((i) => others.every((other) => other.includes(i)))
    .filter((i) => runAlike(segment, ways.segments[i]!))
    .map((i) => ways.owners[i]!);
}

/** How much two circles may differ and still be the same, mm. */
const sameCircle = 0.01;

function runAlike(a: Segment, b: Segment): boolean {
  if (a.bulge === 0 && b.bulge === 0) return true;
  if (a.bulge === 0) return isFlatChord(a, b);
  if (b.bulge === 0) return false;
  const [one, other] = [arcOf(a), arcOf(b)];
  const apart = distance(one.centre, other.centre) + Math.abs(one.radius - other.radius);
  return apart <= sameCircle;
}

/**
 * Whether a straight segment whose ends are near an arc is also near it in between, where it is furthest
 * inside the circle.
 */
function isFlatChord(chord: Segment, arc: Segment): boolean {
  const { centre, radius } = arcOf(arc);
  return radius - nearestOnSegment(chord, centre).distance <= onContour;
}

/** The marks of a segment: both ends, and for an arc also the middle. */
function marksOf(segment: Segment): Point[] {
  const { from, to, bulge } = segment;
  return bulge === 0 ? [from, to] : [from, pointAt(segment, 0.5), to];
}

function match(stroke: Stroke, ways: Ways): { owners: number[]; astray: StrokePoint | undefined } {
  let owners: number[] | undefined;
  for (const { segment, line } of stroke.steps) {
    const before = owners;
    const whole = wholeOn(segment, marksOf(segment).map(ways.at), ways);
    const kept = [...new Set(whole)].filter(
      (owner) => before === undefined || before.includes(owner),
    );
    if (
      kept.length > 0 &&
      (before === undefined ? isAlone(segment, kept, ways) : kept.length === before.length)
    ) {
      owners = kept;
      continue;
    }
    for (const point of [...pointsOn(segment), segment.to]) {
      const here = new Set(ways.at(point).map((i) => ways.owners[i]!));
      owners = owners === undefined ? [...here] : owners.filter((owner) => here.has(owner));
      if (owners.length === 0) return { owners, astray: { point, line } };
    }
  }
  return { owners: owners ?? [], astray: undefined };
}

/**
 * Whether no other group is near the start of a segment. Otherwise one that shares only the beginning
 * might be missed.
 */
function isAlone({ from }: Segment, owners: readonly number[], ways: Ways): boolean {
  return ways.at(from).every((i) => owners.includes(ways.owners[i]!));
}

/** Points of a segment from its start, at most `spacing` apart. Its end is left to the next segment. */
function pointsOn(segment: Segment): Point[] {
  const count = Math.max(1, Math.ceil(segmentLength(segment) / spacing));
  return Array.from({ length: count }, (_, i) => pointAt(segment, i / count));
}

/** The first needed place of a cut that none of its strokes reaches. */
function uncutPlace(
  cut: CutToCover,
  own: ReadonlySet<number>,
  strokes: readonly Stroke[],
  ways: Ways,
): Point | undefined {
  const { measured } = cut;
  const isReached = (p: Point): boolean => ways.at(p).some((i) => own.has(ways.owners[i]!));
  const open = [...measured.segments.keys()].filter((i) => {
    const needed = cut.neededOf(i);
    if (needed === undefined) return false;
    const segment = stretchOfSegment(measured, i, needed);
    const whole = wholeOn(segment, marksOf(segment).map(ways.at), ways);
    return !whole.some((owner) => own.has(owner)) && !isCoveredInPieces(segment, own, ways);
  });
  if (open.length === 0) return undefined;
  const ends = [...own].flatMap((i) => {
    const { steps } = strokes[i]!;
    return [steps[0]!.segment.from, steps.at(-1)!.segment.to];
  });
  const places = [
    ...open.flatMap((i) => placesOn(measured, i)),
    ...ends.flatMap((end) => closePlaces(measured, end)),
  ];
  return places.find(({ along, point }) => cut.needed(along) && !isReached(point))?.point;
}

/** Whether the pieces of strokes that lie along a segment cover it without a gap. */
function isCoveredInPieces(segment: Segment, own: ReadonlySet<number>, ways: Ways): boolean {
  const length = segmentLength(segment);
  const pieces = ways
    .near(growBox(boxOfSegment(segment), onContour))
    .filter((i) => own.has(ways.owners[i]!))
    .flatMap((i): [number, number][] => {
      const piece = ways.segments[i]!;
      const ends = [piece.from, piece.to].map((p) => nearestOnSegment(segment, p));
      if (ends.some((end) => end.distance > onContour) || !runAlike(piece, segment)) return [];
      const [a, b] = ends.map(({ t }) => t * length) as [number, number];
      return [[Math.min(a, b), Math.max(a, b)]];
    })
    .sort(([a], [b]) => a - b);
  let reached = 0;
  for (const [from, to] of pieces) {
    if (from > reached + onContour) return false;
    reached = Math.max(reached, to);
  }
  return reached >= length - onContour;
}

/** A point of a cut, and the length along the cut up to it, mm. */
interface PlacePoint {
  readonly point: Point;
  readonly along: number;
}

function stretchOfSegment(
  { segments, starts }: MeasuredPath,
  i: number,
  [from, to]: readonly [number, number],
): Segment {
  const length = starts[i + 1]! - starts[i]!;
  const [begin, end] = [(from - starts[i]!) / length, (to - starts[i]!) / length];
  return partOfSegment(segments[i]!, Math.max(0, begin), Math.min(1, end));
}

function placesOn({ segments, starts }: MeasuredPath, i: number): PlacePoint[] {
  const segment = segments[i]!;
  const points = pointsOn(segment);
  const step = segmentLength(segment) / points.length;
  return points.map((point, k) => ({ point, along: starts[i]! + k * step }));
}

/** Places on both sides of the end of a stroke, close together, because a gap would be there. */
function closePlaces(measured: MeasuredPath, end: Point): PlacePoint[] {
  const { path, length: whole } = measured;
  const middle = stationLength(measured, nearestPlace(measured, end).station);
  const places: PlacePoint[] = [];
  const add = (along: number): void => {
    places.push({ along, point: placeAlong(measured, along).point });
  };
  for (let off = -spacing; off <= spacing; off += closeSpacing) {
    const length = middle + off;
    if (path.closed) add(((length % whole) + whole) % whole);
    else if (length >= 0 && length <= whole) add(length);
  }
  return places;
}
