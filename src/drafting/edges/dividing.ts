import { refitted } from '../../geometry/curves/refit.ts';
import type { MeasuredPath } from '../../geometry/measuring/measured-path.ts';
import {
  cornerNear,
  measurePath,
  nearestPlace,
  placeAlong,
  stationLength,
} from '../../geometry/measuring/measured-path.ts';
import type { Path } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { cross, dot, minus } from '../../geometry/paths/point.ts';
import type { Segment } from '../../geometry/paths/segment.ts';
import { arcOf, sweepOf, tangentAt } from '../../geometry/paths/segment.ts';
import { softDeg } from '../../geometry/paths/turns.ts';
import { fewestDigitised } from '../../pattern/outlines/outlines.ts';
import { onRound } from './spans.ts';

/** A digitised outline is looked at as lines and arcs that are this near to it, mm: how exactly a hand traces. */
const digitisedOff = 0.4;

/** A curve between two other parts of the outline must turn by so much to be a part of its own, degrees. */
const bendDeg = 30;

/** A round corner that is no longer than this, mm, goes with its longer neighbour. */
const shortestBend = 40;

/** So does what lies between two sharp corners and is no longer than this, mm: a chamfer, a snip. */
export const shortestSide = 8;

/** Two arcs that bend the same way are two curves if the radius of one is more than so many times the other's. */
const radiusRatio = 3;

/** How far the corner of a digitised outline is looked for round the place where its lines and arcs meet, mm. */
const cornerReach = 5;

/** A place at which an outline is divided by its shape. */
interface ShapeMark {
  /** mm along the path that was looked at. */
  readonly along: number;
  readonly isSharp: boolean;
  /** Whether what follows up to the next mark is one curve of its own. */
  readonly beginsBend: boolean;
}

/**
 * The places, mm along a closed outline, at which a person would say that one side ends and another begins,
 * rising:
 * - corners that turn by softDeg or more;
 * - both ends of a curve that turns by bendDeg or more and runs on without a corner into straight lines or
 *   into other curves. If it is no longer than shortestBend it goes with its longer neighbour,
 *   and one end is left.
 * What lies between two corners and is no longer than shortestSide goes with its longer neighbour, too.
 * Outlines of many short lines are first looked at as lines and arcs. A circle is divided nowhere.
 */
export function shapeDivisions(outline: MeasuredPath): number[] {
  const looked = isDigitised(outline.path)
    ? measurePath(refitted(outline.path, digitisedOff).path)
    : outline;
  const marks = withoutShort(shapeMarks(looked), looked.length);
  const places = marks.map((mark) =>
    looked === outline ? mark.along : back(mark, looked, outline),
  );
  return [...new Set(places.map((at) => onRound(at, outline.length)))].sort((a, b) => a - b);
}

function isDigitised({ vertices }: Path): boolean {
  return vertices.filter(({ bulge }) => bulge === 0).length >= fewestDigitised;
}

/** A place on the lines and arcs that stand for a digitised outline, as a vertex of that outline. */
function back({ along, isSharp }: ShapeMark, looked: MeasuredPath, outline: MeasuredPath): number {
  const { point } = placeAlong(looked, along);
  const place = cornerNear(outline, stationLength(outline, nearestPlace(outline, point).station));
  if (!isSharp) return place;
  const near = outline.starts
    .slice(0, -1)
    .filter(
      (at) =>
        Math.abs(onRound(at - place + outline.length / 2, outline.length) - outline.length / 2) <=
        cornerReach,
    );
  const turns = near.map((at) => turnOver(outline, at));
  return near[turns.indexOf(Math.max(...turns))] ?? place;
}

/** By how much the outline turns from just before a place to just after it, radians. */
function turnOver(outline: MeasuredPath, at: number): number {
  const point = (along: number): Point => placeAlong(outline, onRound(along, outline.length)).point;
  const [before, here, after] = [point(at - cornerReach), point(at), point(at + cornerReach)];
  return Math.abs(turnBetween(minus(here, before), minus(after, here)));
}

function turnBetween(into: Point, out: Point): number {
  return Math.atan2(cross(into, out), dot(into, out));
}

/** How strongly a segment is bent, 1 / mm: positive to the left, 0 if it is straight. */
function bentOf(segment: Segment): number {
  return segment.bulge === 0 ? 0 : Math.sign(segment.bulge) / arcOf(segment).radius;
}

/** Whether two segments are one side or one curve: both straight, or bent alike. */
function areBentAlike(a: number, b: number): boolean {
  if (a === 0 || b === 0) return a === b;
  return a / b > 1 / radiusRatio && a / b < radiusRatio;
}

/** A row of segments that are all straight, or each bent like the next, without a sharp corner between them. */
interface Row {
  readonly from: number;
  readonly length: number;
  readonly isBent: boolean;
  /** Radians. */
  readonly turn: number;
  /** Whether it begins at a sharp corner. */
  readonly isAtCorner: boolean;
}

function shapeMarks(path: MeasuredPath): ShapeMark[] {
  const rows = rowsOf(path);
  return rows.flatMap((row, i): ShapeMark[] => {
    const before = rows.at(i - 1)!;
    const after = rows[(i + 1) % rows.length]!;
    const { from, isAtCorner } = row;
    const beginsBend = rows.length > 1 && isBend(row, after);
    const endsBend = rows.length > 1 && isBend(before, row);
    if (!isAtCorner && !beginsBend && !endsBend) return [];
    return [{ along: from, isSharp: isAtCorner, beginsBend }];
  });
}

/** Whether a row is a curve of its own: it turns enough, and no corner stands at either end. */
function isBend({ isBent, isAtCorner, turn }: Row, after: Row): boolean {
  return isBent && !isAtCorner && !after.isAtCorner && Math.abs(turn) >= (bendDeg * Math.PI) / 180;
}

function rowsOf({ segments, starts, length }: MeasuredPath): Row[] {
  const count = segments.length;
  const bent = segments.map(bentOf);
  const cornerTurn = (i: number): number =>
    turnBetween(tangentAt(segments[(i + count - 1) % count]!, 1), tangentAt(segments[i]!, 0));
  const isSharp = (i: number): boolean => Math.abs(cornerTurn(i)) >= (softDeg * Math.PI) / 180;
  const isStart = (i: number): boolean => isSharp(i) || !areBentAlike(bent[i]!, bent.at(i - 1)!);
  const begins = segments.flatMap((_, i) => (isStart(i) ? [i] : []));
  return begins.map((begin, k): Row => {
    const end = begins[k + 1] ?? begins[0]! + count;
    const own = Array.from({ length: end - begin }, (_, i) => segments[(begin + i) % count]!);
    const to = end < count ? starts[end]! : starts[end - count]! + length;
    return {
      from: starts[begin]!,
      length: to - starts[begin]!,
      isBent: bent[begin] !== 0,
      turn: own.reduce((sum, { bulge }) => sum + sweepOf(bulge), 0),
      isAtCorner: isSharp(begin),
    };
  });
}

/**
 * The marks without those that would part something too short from its longer neighbour. Curves come before
 * sides, so that a short end between two round corners is not taken for a part of one of them.
 */
function withoutShort(marks: readonly ShapeMark[], round: number): ShapeMark[] {
  const lengthFrom = (i: number): number => {
    const [here, next] = [marks.at(i % marks.length)!, marks[(i + 1) % marks.length]!];
    return onRound(next.along - here.along, round);
  };
  const isShort = (i: number): boolean =>
    lengthFrom(i) <= (marks[i]!.beginsBend ? shortestBend : shortestSide);
  const rank = (i: number): number =>
    marks[i]!.beginsBend ? lengthFrom(i) : round + lengthFrom(i);
  const [first] = marks
    .map((_, i) => i)
    .filter(isShort)
    .sort((a, b) => rank(a) - rank(b));
  if (first === undefined || marks.length < 2) return [...marks];
  const count = marks.length;
  const isLongerAfter = lengthFrom(first + 1) >= lengthFrom(first + count - 1);
  const gone = isLongerAfter ? (first + 1) % count : first;
  const grown = (gone + count - 1) % count;
  const left = marks.map((mark, i) => (i === grown ? { ...mark, beginsBend: false } : mark));
  return withoutShort(left.toSpliced(gone, 1), round);
}
