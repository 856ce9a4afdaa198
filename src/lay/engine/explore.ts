import type { Layout, Problem } from './layout.ts';
import { copyOf, fits, keptX, keptY, put, restore } from './layout.ts';
import type { Effort, Separator } from './separate.ts';

/** A layout in which items still overlap, and by how much. */
interface Attempt {
  readonly layout: Layout;
  readonly loss: number;
}

/** A layout without overlaps, made shorter and shorter. */
export interface Explorer {
  /** The shortest so far. */
  readonly best: Layout;
  /**
   * Shortens the strip again and again from the best layout, and separates; where that fails, goes on
   * from one of the failures, or from the best, with two large items changed over, or four. Returns when
   * `goOn` says no; it is asked after every round of moves.
   */
  readonly explore: (goOn: () => boolean) => void;
  /** Shortens by ever less, always from the best; `share` is how much of the time is over, 0 to 1. */
  readonly compress: (goOn: () => boolean, share: () => number) => void;
}

/** Shares of the length by which a strip is shortened at a time, and how hard its items are then separated. */
const exploring = { shrink: 0.001, boldest: 0.03, easy: 15, rounds: 100, strikes: 3 };
const compressing = { from: 0.0005, to: 0.00001, rounds: 50, strikes: 2 };

/** How often a search that failed goes on from the best layout instead of a failure, and changes over two pairs instead of one. */
const disturbing = { fromBest: 0.25, twice: 0.5, kept: 20 };

/** Takes over `best`, a layout without overlaps; `found` is told whenever it has become shorter. */
export function explorer(
  problem: Problem,
  { layout, separate, overlap }: Separator,
  best: Layout,
  random: () => number,
  found: () => void,
): Explorer {
  const least = leastLength(problem);
  let shrink = exploring.boldest;

  const shortenBest = (by: number): void => {
    restore(layout, best);
    const length = Math.max(least, best.length * (1 - by));
    shorten(problem, layout, length, random() * best.length);
  };

  /** The layout, free of overlaps, becomes the best one, no longer than its items reach. */
  const adopt = (): void => {
    if (!problem.wraps) layout.length = usedLength(problem, layout);
    restore(best, layout);
    found();
  };

  /** Goes on from one of the failures, most often one of the best, or from the best layout. */
  const disturb = (failures: readonly Attempt[]): void => {
    const spread = Math.abs(normal(random)) * 0.25 * failures.length;
    if (random() < disturbing.fromBest) shortenBest(shrink);
    else restore(layout, failures[Math.min(failures.length - 1, Math.floor(spread))]!.layout);
    changeOver(problem, layout, random);
    if (random() < disturbing.twice) changeOver(problem, layout, random);
  };

  const explore = (goOn: () => boolean): void => {
    let rounds = 0;
    const counted = (): boolean => {
      rounds++;
      return goOn();
    };
    const effort: Effort = { rounds: exploring.rounds, strikes: exploring.strikes, goOn: counted };
    let failures: Attempt[] = [];
    if (best.length > least) shortenBest(shrink);
    while (best.length > least && goOn()) {
      rounds = 0;
      if (separate(effort)) {
        adopt();
        failures = [];
        // Bold while it is easy.
        const factor = rounds <= exploring.easy ? 1.3 : 0.5;
        shrink = Math.min(exploring.boldest, Math.max(exploring.shrink, factor * shrink));
        shortenBest(shrink);
      } else if (shrink > exploring.shrink) {
        shrink = Math.max(exploring.shrink, shrink / 4);
        shortenBest(shrink);
      } else {
        keep(failures, { layout: copyOf(layout), loss: overlap() });
        disturb(failures);
      }
    }
  };

  const compress = (goOn: () => boolean, share: () => number): void => {
    const effort: Effort = { rounds: compressing.rounds, strikes: compressing.strikes, goOn };
    while (best.length > least && goOn()) {
      shortenBest(compressing.from + (compressing.to - compressing.from) * share());
      if (separate(effort)) adopt();
    }
  };

  return { best, explore, compress };
}

/** The least overlapping first; no more than are kept. */
function keep(failures: Attempt[], attempt: Attempt): void {
  const worse = failures.findIndex(({ loss }) => attempt.loss < loss);
  failures.splice(worse === -1 ? failures.length : worse, 0, attempt);
  if (failures.length > disturbing.kept) failures.pop();
}

/** From the strip's start to where the items reach that may be moved. */
export function usedLength({ turns, turnsOf }: Problem, { turn, x }: Layout): number {
  return turnsOf.reduce((most, _, i) => Math.max(most, x[i]! + turns[turn[i]!]!.kept.maxX), 0);
}

/** No strip is shorter than the longest item in its shortest turn. In one that wraps no item reaches itself. */
function leastLength({ turns, turnsOf, wraps }: Problem): number {
  const lengthOf = (turn: number): number => {
    const { minX, maxX } = wraps ? turns[turn]! : turns[turn]!.kept;
    return maxX - minX;
  };
  return turnsOf.reduce((most, own) => Math.max(most, Math.min(...own.map(lengthOf))), 0);
}

/** Everything to the right of a cut moved left, and kept in the shorter strip; items too long for it take another turn. */
function shorten(problem: Problem, layout: Layout, length: number, cut: number): void {
  const by = layout.length - length;
  layout.length = length;
  for (const [i, own] of problem.turnsOf.entries()) {
    const { minX, maxX } = problem.turns[layout.turn[i]!]!;
    const x = layout.x[i]!;
    const moved = x + (minX + maxX) / 2 > cut ? x - by : x;
    const turn = fits(problem, layout, layout.turn[i]!)
      ? layout.turn[i]!
      : own.find((other) => fits(problem, layout, other))!;
    const kept = keptX(problem, layout, turn, moved);
    put(problem, layout, i, turn, kept, keptY(problem, turn, layout.y[i]!));
  }
}

function normal(random: () => number): number {
  return Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
}

interface Sized {
  readonly i: number;
  readonly size: number;
}

/** Two large items of different kinds change places. */
function changeOver(problem: Problem, layout: Layout, random: () => number): void {
  const sizes = problem.turnsOf.map((_, i): Sized => ({
    i,
    size: problem.turns[layout.turn[i]!]!.size,
  }));
  sizes.sort((a, b) => b.size - a.size);
  const whole = sizes.reduce((sum, { size }) => sum + size * size, 0);
  let sum = 0;
  const large = sizes.filter(
    ({ size }) => (sum += size * size) <= 0.75 * whole || sum === size * size,
  );
  const pick = (from: readonly Sized[]): Sized => from[(random() * from.length) | 0]!;
  const a = pick(large.length > 1 ? large : sizes);
  const others = sizes.filter(({ i }) => problem.turnsOf[i] !== problem.turnsOf[a.i]);
  if (others.length === 0) return;
  const othersLarge = large.filter(({ i }) => problem.turnsOf[i] !== problem.turnsOf[a.i]);
  const b = pick(othersLarge.length > 0 ? othersLarge : others);
  const centre = (i: number): [number, number] => {
    const { minX, maxX, minY, maxY } = problem.turns[layout.turn[i]!]!;
    return [layout.x[i]! + (minX + maxX) / 2, layout.y[i]! + (minY + maxY) / 2];
  };
  const [ca, cb] = [centre(a.i), centre(b.i)];
  place(problem, layout, a.i, cb, random);
  place(problem, layout, b.i, ca, random);
}

function place(
  problem: Problem,
  layout: Layout,
  i: number,
  [cx, cy]: [number, number],
  random: () => number,
): void {
  const choices = problem.turnsOf[i]!.filter((turn) => fits(problem, layout, turn));
  const turn = choices[(random() * choices.length) | 0]!;
  const { minX, maxX, minY, maxY } = problem.turns[turn]!;
  const x = keptX(problem, layout, turn, cx - (minX + maxX) / 2);
  put(problem, layout, i, turn, x, keptY(problem, turn, cy - (minY + maxY) / 2));
}
