import type { EdgesView, StretchView } from '../../../../drafting/edge-view.ts';
import { partOfPath } from './path-along.ts';

/** A stretch of an outline as the page shows it: a part of one if it was divided by hand. */
export type ShownStretch = StretchView;

/** A part of an outline, mm along it; `to` <= `from`: across its start. */
export type StretchPart = Pick<StretchView, 'from' | 'to'>;

/** Nearer to an end of a stretch than this, mm, it is not divided. */
export const leastPart = 5;

/** How far it is along a closed outline from one place to another, mm: all of it where they are the same. */
function lengthBetween({ from, to }: StretchPart, round: number): number {
  return to > from ? to - from : to - from + round;
}

/** The stretches of a piece, divided at places, mm along its outline. */
export function shownStretches(
  { stretches, round }: Pick<EdgesView, 'stretches' | 'round'>,
  cuts: readonly number[],
): readonly ShownStretch[] {
  if (cuts.length === 0) return stretches;
  return stretches.flatMap((stretch) => {
    const long = lengthBetween(stretch, round);
    const own = cuts
      .map((at) => lengthBetween({ from: stretch.from, to: at }, round))
      .filter((at) => at >= leastPart && at <= long - leastPart)
      .sort((a, b) => a - b);
    const ends = [0, ...own, long];
    return own.length === 0
      ? [stretch]
      : ends.slice(1).map((end, i) => partOf(stretch, ends[i]!, end, long, round));
  });
}

function partOf(
  stretch: StretchView,
  begin: number,
  end: number,
  long: number,
  round: number,
): ShownStretch {
  const at = (along: number): number => (stretch.from + along) % round;
  return {
    ...stretch,
    from: begin === 0 ? stretch.from : at(begin),
    to: end === long ? stretch.to : at(end),
    length: Math.round((end - begin) * 10) / 10,
    ...partOfPath(stretch.d, begin, end),
  };
}

/** Where a place of a stretch lies on the outline, mm: so many mm from its beginning, negative from its end. */
export function placeOnRound(stretch: StretchPart, along: number, round: number): number {
  const from = along >= 0 ? stretch.from : stretch.to;
  return (((from + along) % round) + round) % round;
}

/** The numbers of stretches that lie where others lay that were chosen before the outline was divided anew. */
export function carriedOver(
  before: readonly StretchPart[],
  chosen: readonly number[],
  after: readonly StretchPart[],
  round: number,
): number[] {
  const isIn = (reach: StretchPart, place: number): boolean =>
    lengthBetween({ from: reach.from, to: place }, round) % round <= lengthBetween(reach, round);
  const middle = (reach: StretchPart): number =>
    (reach.from + lengthBetween(reach, round) / 2) % round;
  const old = chosen.flatMap((i) => before[i] ?? []);
  return after.flatMap((reach, i) =>
    old.some((one) => isIn(one, middle(reach)) || isIn(reach, middle(one))) ? [i] : [],
  );
}
