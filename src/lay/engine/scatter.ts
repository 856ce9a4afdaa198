import { usedLength } from './explore.ts';
import type { Prepared } from './instance.ts';
import { fits, put } from './layout.ts';
import type { Separator } from './separate.ts';

/** At first the strip is so long that items cover this share of it. Each time they cannot be separated it grows by this factor. */
const densest = 0.8;
const longer = 1.05;
const effort = { rounds: 100, strikes: 2 };

/**
 * Strews the items over the strip at random and separates them. Returns true if that succeeds before
 * `goOn` says no: the separator's layout is then free of overlaps.
 */
export function scatter(
  { problem, area }: Prepared,
  { layout, separate }: Separator,
  goOn: () => boolean,
  random: () => number,
): boolean {
  const { width, turns, turnsOf } = problem;
  layout.length = Math.max(area / width / densest, problem.taken);
  while (goOn()) {
    for (const [i, own] of turnsOf.entries()) {
      const choices = own.filter((turn) => fits(problem, layout, turn));
      const turn = choices[(random() * choices.length) | 0];
      if (turn === undefined) break;
      const { minX, minY, maxX, maxY } = turns[turn]!.kept;
      const x = -minX + random() * (layout.length - (maxX - minX));
      put(problem, layout, i, turn, x, -minY + random() * (width - (maxY - minY)));
    }
    const fit = turnsOf.every((own) => own.some((turn) => fits(problem, layout, turn)));
    if (fit && separate({ ...effort, goOn })) {
      layout.length = usedLength(problem, layout);
      return true;
    }
    layout.length *= longer;
  }
  return false;
}
