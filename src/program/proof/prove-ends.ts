import type { Finding } from '../../base/findings.ts';
import type { MeasuredPath } from '../../geometry/measuring/measured-path.ts';
import { segmentLength } from '../../geometry/paths/segment.ts';
import type { Cutter } from '../../knife/cutter.ts';
import { bladeReach } from '../../knife/strokes/overcut.ts';
import { isTight } from '../../knife/strokes/steps.ts';
import type { Coverage } from './coverage.ts';
import { fault } from './faults.ts';
import type { BladeCut } from './prove-overcut.ts';
import { alongOf, sliver, shortestAlong } from './prove-overcut.ts';
import type { Stroke } from '../reading/trace.ts';

/** How far the end of a stroke may be from its place, mm. */
const atPlace = 0.1;

/**
 * Faults of the ends of strokes, for contours that are cut in one bite. Strokes must begin and end where
 * the knife must be lifted and nowhere else. The last must go on past the start of the first by the
 * closing overlap. Contours that are cut in steps are not checked.
 */
export function endFaults(
  { cutsOf, strokesOf }: Coverage,
  strokes: readonly Stroke[],
  cuts: readonly BladeCut[],
  cutter: Cutter,
  thickness: number,
): Finding[] {
  return cuts.flatMap((cut, i) => {
    const own = strokesOf[i]!.map((k) => strokes[k]!);
    const [first] = own;
    // If a stroke lies on two contours, nobody can say for which of them it must end where.
    if (strokesOf[i]!.some((k) => cutsOf[k]!.length > 1)) return [];
    if (first === undefined || !cut.path.closed || isStepped(cut.measured, cutter)) return [];
    if (own.some(({ fed }) => fed !== first.fed)) return [];
    return [
      ...own.flatMap((stroke, k) =>
        liftFaults(stroke, cut, k === 0, k === own.length - 1, cutter, thickness),
      ),
      ...closingFaults(first, own.at(-1)!, cut, cutter, thickness),
    ];
  });
}

function isStepped({ segments }: MeasuredPath, { knife, blade }: Cutter): boolean {
  return knife.kind === 'tangential' && segments.some((segment) => isTight(segment, blade));
}

function liftFaults(
  stroke: Stroke,
  cut: BladeCut,
  isFirst: boolean,
  isLast: boolean,
  cutter: Cutter,
  thickness: number,
): Finding[] {
  const { front, rear } = bladeReach(cutter, thickness);
  const { measured, label } = cut;
  const from = stroke.steps[0]!;
  const to = stroke.steps.at(-1)!;
  const begin = alongOf(measured, from.segment.from);
  const end = alongOf(measured, to.segment.to);
  const isAt = (along: number, reach: typeof front, sense: 1 | -1): boolean =>
    [...cut.turns, ...sliversOf(measured)].some((turn) => {
      const off = sense * shortestAlong(along - turn.along, measured.length);
      return off >= -atPlace && off <= (turn.inside ? reach.upper : reach.under) + atPlace;
    });
  const wrong = [
    ...(isFirst || isAt(begin, rear, 1) ? [] : [{ line: from.line, at: from.segment.from }]),
    ...(isLast || isAt(end, front, -1) ? [] : [{ line: to.line, at: to.segment.to }]),
  ];
  return wrong.map(({ line, at }) => {
    const message = 'a stroke begins or ends where the knife has no need to be lifted.';
    return fault('lift', message, { file: stroke.file, line, part: label, at });
  });
}

/** Segments that are too short to have a direction. The knife may be lifted at them. */
function sliversOf({ segments, starts }: MeasuredPath): { along: number; inside: boolean }[] {
  return segments.flatMap((segment, i) =>
    segmentLength(segment) < sliver ? [{ along: starts[i]!, inside: false }] : [],
  );
}

/** A fault if the last stroke does not go on past the start of the first by the closing overlap. */
function closingFaults(
  first: Stroke,
  last: Stroke,
  { measured, turns, label }: BladeCut,
  cutter: Cutter,
  thickness: number,
): Finding[] {
  const { front, rear } = bladeReach(cutter, thickness);
  const overlap = cutter.closingOverlap;
  const begin = alongOf(measured, first.steps[0]!.segment.from);
  const off = (along: number): number => shortestAlong(along - begin, measured.length);
  const corner = turns.find(({ along, inside }) => {
    const back = -off(along);
    return back >= -atPlace && back <= (inside ? rear.upper : rear.under) + atPlace;
  });
  const start = corner?.along ?? begin;
  const isCrowded = turns.some((turn) => {
    const ahead = shortestAlong(turn.along - start, measured.length);
    return turn !== corner && ahead > -atPlace && ahead < overlap + front.upper + atPlace;
  });
  if (isCrowded || measured.length < 3 * overlap) return [];
  const end = shortestAlong(
    alongOf(measured, last.steps.at(-1)!.segment.to) - start,
    measured.length,
  );
  const after = corner === undefined ? 0 : corner.inside ? rear.upper : rear.under;
  const before = corner === undefined ? 0 : corner.inside ? front.upper : front.under;
  // If the blade must stay further from the corner than the overlap is long, nothing of the overlap is
  // cut.
  const isEaten = corner !== undefined && overlap <= after + 2 * atPlace;
  const isDropped = isEaten && end <= atPlace && end >= -before - atPlace;
  if (isDropped || Math.abs(end - overlap) <= atPlace) return [];
  const { line, segment } = last.steps.at(-1)!;
  const message = `the contour is closed ${end.toFixed(2)} mm past its start instead of ${overlap}.`;
  return [fault('overlap', message, { file: last.file, line, part: label, at: segment.to })];
}
