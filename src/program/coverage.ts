import { boxOfPoints, growBox } from '../geometry/box.ts';
import { boxIndex } from '../geometry/box-index.ts';
import type { Path } from '../geometry/path.ts';
import { segmentsOf } from '../geometry/path.ts';
import type { Point } from '../geometry/point.ts';
import type { Segment } from '../geometry/segment.ts';
import { boxOfSegment, nearestOnSegment, pointAt, segmentLength } from '../geometry/segment.ts';
import type { MeasuredPath } from '../geometry/measured-path.ts';
import { measurePath, nearestPlace, placeAlong, stationLength } from '../geometry/measured-path.ts';
import type { ExpectedCut } from './expected.ts';
import type { Stroke } from './trace.ts';

/** A stroke lies on its contour to this, mm: rounding, chords of a dragged tip and turns left to the next stroke. */
export const onContour = 0.05;
/** mm between the points at which strokes and contours are looked at, and near the ends of strokes, where a gap would be. */
const spacing = 1;
const closeSpacing = 0.1;

/** A point of a stroke with the line of the program that made it. */
export interface StrokePoint {
  readonly point: Point;
  readonly line: number;
}

/** Strokes and what they cut, by index. */
export interface Coverage {
  /** For each stroke the cuts that it lies on from end to end; two where contours share an edge. */
  readonly cutsOf: readonly (readonly number[])[];
  /** For each cut the strokes that lie on it. */
  readonly strokesOf: readonly (readonly number[])[];
  /** For each stroke that lies on none: where it leaves them. */
  readonly astray: readonly (StrokePoint | undefined)[];
  /** For each cut the first point that no stroke reaches. */
  readonly uncut: readonly (Point | undefined)[];
}

/**
 * Which strokes lie on which cuts. `needed` says whether a place of a cut, mm along it, must be
 * reached at all.
 */
export function coverageOf(
  strokes: readonly Stroke[],
  cuts: readonly ExpectedCut[],
  needed: (cut: number, along: number) => boolean,
): Coverage {
  const toCuts = ownersNear(cuts.map(({ path }) => segmentsOf(path)));
  const matched = strokes.map((stroke) => match(stroke, toCuts));
  const cutsOf = matched.map(({ owners }) => owners);
  const toStrokes = ownersNear(strokes.map(({ steps }) => steps.map(({ segment }) => segment)));
  const strokesOf = inverse(cutsOf, cuts.length);
  const uncut = cuts.map(({ path }, cut) => {
    const own = new Set(strokesOf[cut]);
    const points = checkPoints(
      path,
      strokesOf[cut]!.map((stroke) => strokes[stroke]!),
    );
    return points
      .filter(({ along }) => needed(cut, along))
      .find(({ point }) => !toStrokes(point).some((stroke) => own.has(stroke)))?.point;
  });
  return { cutsOf, strokesOf, astray: matched.map(({ astray }) => astray), uncut };
}

/** For each of `count` values the places, rising, of the lists that have it. */
function inverse(lists: readonly (readonly number[])[], count: number): number[][] {
  const places = Array.from({ length: count }, (): number[] => []);
  for (const [place, values] of lists.entries()) {
    for (const value of values) places[value]!.push(place);
  }
  return places;
}

/** mm of the tip's way. */
export function strokeLength({ steps }: Stroke): number {
  return steps.reduce((sum, { segment }) => sum + segmentLength(segment), 0);
}

/** The owners (indexes of groups) with a segment within onContour of a point. */
function ownersNear(groups: readonly (readonly Segment[])[]): (p: Point) => number[] {
  const owned = groups.flatMap((segments, owner) =>
    segments.map((segment) => ({ segment, owner })),
  );
  const index = boxIndex(owned.map(({ segment }) => boxOfSegment(segment)));
  return (p) =>
    index(growBox(boxOfPoints([p]), onContour))
      .map((i) => owned[i]!)
      .filter(({ segment }) => nearestOnSegment(segment, p).distance <= onContour)
      .map(({ owner }) => owner);
}

function match(
  stroke: Stroke,
  toCuts: (p: Point) => number[],
): { owners: number[]; astray: StrokePoint | undefined } {
  let owners: number[] | undefined;
  for (const at of strokePoints(stroke)) {
    const here = new Set(toCuts(at.point));
    owners = owners === undefined ? [...here] : owners.filter((owner) => here.has(owner));
    if (owners.length === 0) return { owners, astray: at };
  }
  return { owners: owners ?? [], astray: undefined };
}

function* strokePoints({ steps }: Stroke): Generator<StrokePoint> {
  for (const { segment, line } of steps) {
    for (const point of pointsOn(segment)) yield { point, line };
    yield { point: segment.to, line };
  }
}

/** From the start of a segment, at most `spacing` apart, its end left to the next one. */
function pointsOn(segment: Segment): Point[] {
  const count = Math.max(1, Math.ceil(segmentLength(segment) / spacing));
  return Array.from({ length: count }, (_, i) => pointAt(segment, i / count));
}

/** Where a contour is looked at: all along it, and closely round the ends of its strokes. */
function checkPoints(path: Path, strokes: readonly Stroke[]): PlacePoint[] {
  const measured = measurePath(path);
  const all = measured.segments.flatMap((segment, i) => {
    const points = pointsOn(segment);
    const step = segmentLength(segment) / points.length;
    return points.map((point, k) => ({ point, along: measured.starts[i]! + k * step }));
  });
  const ends = strokes.flatMap(({ steps }) => [steps[0]!.segment.from, steps.at(-1)!.segment.to]);
  return [...all, ...ends.flatMap((end) => closePoints(measured, end))];
}

/** A point of a cut, and how far along it. */
interface PlacePoint {
  readonly point: Point;
  readonly along: number;
}

function closePoints(measured: MeasuredPath, end: Point): PlacePoint[] {
  const { path, length: whole } = measured;
  const middle = stationLength(measured, nearestPlace(measured, end).station);
  const points: PlacePoint[] = [];
  const add = (along: number): void => {
    points.push({ along, point: placeAlong(measured, along).point });
  };
  for (let off = -spacing; off <= spacing; off += closeSpacing) {
    const length = middle + off;
    if (path.closed) add(((length % whole) + whole) % whole);
    else if (length >= 0 && length <= whole) add(length);
  }
  return points;
}
