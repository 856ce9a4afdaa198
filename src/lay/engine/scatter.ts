import { usedLength } from './explore.ts';
import type { Prepared } from './instance.ts';
import { fits, keptX, put } from './layout.ts';
import type { Separator } from './separate.ts';
import { whileGoing } from './separate.ts';

/** Items cover no more than this share of the strip, and it is no more than so much shorter than a layout that is known. */
const densest = 0.8;
const boldest = 0.06;
/** Each time the items cannot be separated the strip is made longer by this factor. */
const longer = 1.05;
const effort = { rounds: 100, strikes: 2 };

/**
 * Strews the items over the strip at random and separates them; where that fails they are drawn apart along a longer
 * strip, and separated there. `known` is the length of a layout without overlaps. Returns true if it succeeds before
 * `goOn` says no: the separator's layout is then free of overlaps.
 */
export function scatter(
  { problem, area }: Prepared,
  { layout, separate }: Separator,
  known: number,
  goOn: () => boolean,
  random: () => number,
): boolean {
  const { width, turns, turnsOf } = problem;
  /** Returns false if some item is longer than the strip. */
  const strew = (): boolean => {
    for (const [i, own] of turnsOf.entries()) {
      const choices = own.filter((turn) => fits(problem, layout, turn));
      const turn = choices[(random() * choices.length) | 0];
      if (turn === undefined) return false;
      const { minX, minY, maxX, maxY } = turns[turn]!.kept;
      const x = -minX + random() * (layout.length - (maxX - minX));
      put(problem, layout, i, turn, x, -minY + random() * (width - (maxY - minY)));
    }
    return true;
  };
  const drawApart = (): void => {
    for (const i of turnsOf.keys()) {
      const turn = layout.turn[i]!;
      const { minX, maxX } = turns[turn]!.kept;
      const middle = (minX + maxX) / 2;
      const x = (layout.x[i]! + middle) * longer - middle;
      put(problem, layout, i, turn, keptX(problem, layout, turn, x), layout.y[i]!);
    }
  };
  layout.length = Math.max(area / width / densest, (1 - boldest) * known, problem.taken);
  let strewn = false;
  while (goOn()) {
    if (strewn) drawApart();
    else strewn = strew();
    if (strewn && whileGoing(separate(effort), goOn) !== null) {
      layout.length = usedLength(problem, layout);
      return true;
    }
    layout.length *= longer;
  }
  return false;
}
