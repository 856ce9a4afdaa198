import type { MeasuredPath } from '../../geometry/measuring/measured-path.ts';
import { measurePath, stretchAlong } from '../../geometry/measuring/measured-path.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { pathOf, segmentsOf } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { distance } from '../../geometry/paths/point.ts';
import type { Segment } from '../../geometry/paths/segment.ts';
import { samePoint } from '../../geometry/paths/tolerance.ts';
import type { SharpCorner } from './corners.ts';
import { sharpCorners, sharpestTurn } from './corners.ts';
import type { Cut } from '../cuts.ts';
import type { Cutter } from '../cutter.ts';
import type { Move } from '../moves.ts';
import type { EdgeReach } from './overcut.ts';
import { bladeReach } from './overcut.ts';
import { inSteps } from './steps.ts';

/** Where the swivel axis is (NaN: not known) and the heading of the knife, degrees, unwrapped. */
export interface KnifeState {
  readonly at: Point;
  readonly deg: number;
}

/** The moves that cut one path, from travel height back to travel height. */
export interface CutMoves {
  readonly moves: readonly Move[];
  readonly after: KnifeState;
}

/**
 * A turn smaller than this (degrees) is not made by itself but is left to the next stroke: three decimals
 * on a millimetre of cut cannot express it.
 */
export const negligibleTurnDeg = 0.01;

/** A notch is not cut if the blade could cut less than this of it, mm. */
export const shortestNotch = 1;
/** A stretch between two corners is not cut by itself if the blade could cut less than this of it, mm. */
const shortestStroke = 0.05;

/** The travel to a place, with the knife up. Empty if the knife is there already. */
export function travelTo(to: Point, from: Point): Move[] {
  return distance(from, to) <= samePoint ? [] : [{ kind: 'travel', to }];
}

/**
 * The ways of the tip, one for each stroke, that cut a path in material of `thickness` mm. The knife is
 * up between them.
 *
 * The idea: a leaning blade cuts further at one side of the material than its tip goes (see bladeReach).
 * So the path is divided at its sharp corners, and a stroke may begin after a corner and end before it.
 * - At an inside corner it stops so early that the upper side is cut exactly to the corner: cutting
 *   further would go into what is kept. A wedge below stays uncut.
 * - At an outside corner a tangential knife stops where the underside is cut exactly to the corner. The
 *   upper side is then cut further, which only goes into waste.
 * - A trailing knife swivels at outside corners, and is only lifted where it would otherwise cut into
 *   what is kept.
 *
 * A closed contour goes on past its start by the closing overlap, at most once round.
 */
export function tipStrokes(cut: Cut, cutter: Cutter, thickness: number): Path[] {
  const { kind, path, stretch } = cut;
  const { front, rear } = bladeReach(cutter, thickness);
  const measured = measurePath(path);
  if (!path.closed) {
    const [from, to] = [rear.under, measured.length - front.upper];
    return to - from < shortestNotch ? [] : [along(measured, from, to)];
  }
  const overlap = Math.min(cutter.closingOverlap, measured.length);
  const whole = stretch ?? { from: 0, to: measured.length + overlap };
  const corners = sharpCorners(measured, kind, sharpestTurn(cutter));
  const isTangential = cutter.knife.kind === 'tangential';
  const spared = ({ inside }: SharpCorner, { upper, under }: EdgeReach): number =>
    inside ? upper : isTangential ? under : 0;
  const lifts = corners.filter(
    (corner) => isTangential || spared(corner, front) + spared(corner, rear) > 0,
  );
  const ends = endsOf(whole, lifts, measured.length);
  const strokes = ends.slice(1).flatMap((end, i): Path[] => {
    const start = ends[i]!;
    const from = start.at + (start.corner === undefined ? 0 : spared(start.corner, rear));
    const to = end.at - (end.corner === undefined ? 0 : spared(end.corner, front));
    if (to - from > shortestStroke) return [along(measured, from, to)];
    const isOverlap = stretch === undefined && start.at >= measured.length - samePoint;
    const isOutside = start.corner?.inside !== true && end.corner?.inside !== true;
    const isLong = end.at - start.at > shortestStroke;
    return isOutside && isLong && !isOverlap ? [along(measured, start.at, end.at)] : [];
  });
  return isTangential ? strokes.flatMap((stroke) => inSteps(stroke, cutter.blade)) : strokes;
}

/**
 * A place at which the knife is lifted or lowered: the length along a contour, which goes on past its
 * end.
 */
interface End {
  readonly at: number;
  /** The corner at that place. Left out: the contour is begun or left between corners. */
  readonly corner?: SharpCorner;
}

/** Both ends of a stretch, and the corners between them. A lap is once round the contour. */
function endsOf(
  { from, to }: { readonly from: number; readonly to: number },
  corners: readonly SharpCorner[],
  length: number,
): End[] {
  const ends: End[] = [];
  for (let lap = Math.floor(from / length); lap * length <= to; lap++) {
    for (const corner of corners) {
      const at = corner.along + lap * length;
      if (at > from - samePoint && at < to + samePoint) ends.push({ at, corner });
    }
  }
  if (ends.length === 0 || ends[0]!.at > from + samePoint) ends.unshift({ at: from });
  if (ends.length === 1 || ends.at(-1)!.at < to - samePoint) ends.push({ at: to });
  return ends;
}

/** The open path between two lengths along a path. On a closed path lengths may exceed once round. */
function along(measured: MeasuredPath, from: number, to: number): Path {
  const { path, length } = measured;
  if (!path.closed) return stretchAlong(measured, from, to);
  const pieces: Segment[] = [];
  for (let lap = Math.floor(from / length); lap * length < to - samePoint; lap++) {
    const [start, end] = [Math.max(0, from - lap * length), Math.min(length, to - lap * length)];
    if (end - start > samePoint) pieces.push(...segmentsOf(stretchAlong(measured, start, end)));
  }
  return pathOf(pieces, false);
}
