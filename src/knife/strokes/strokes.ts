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

/** Where the swivel axis stands (NaN: not known) and which way the knife looks, degrees, unwrapped. */
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
 * Turns smaller than this (degrees) are left to the stroke that follows: below what three decimals
 * of a heading on a millimetre of cut can tell.
 */
export const negligibleTurnDeg = 0.01;

/** A notch of which the blade could cut no more than this (mm) is not cut. */
export const shortestNotch = 1;
/** A stretch between two corners that is shorter than this is not cut by itself, mm. */
const shortestStroke = 0.05;

/** The travel to a place with the knife up; nothing if it stands there already. */
export function travelTo(to: Point, from: Point): Move[] {
  return distance(from, to) <= samePoint ? [] : [{ kind: 'travel', to }];
}

/**
 * The ways of the tip that cut a path in material of `thickness` mm, the knife up between them. The
 * knife is lifted at sharp corners: a tangential one at all of them, a trailing one only where it
 * would else cut into what is kept. Before an inside corner it stops, and after it begins, so far off
 * that the upper side is cut to the corner and no further; at an outside one so that the underside is. A
 * closed contour goes on past its start by the closing overlap, once round at most.
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

/** A place along a contour, counted on past its end, where the knife is lifted or lowered. */
interface End {
  readonly at: number;
  /** The corner there; none where a contour is begun or left in the middle of a run. */
  readonly corner?: SharpCorner;
}

/** Both ends of a stretch and the corners on the way. */
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

/** The open path between two lengths along a path; along a closed one they may lie on other laps. */
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
