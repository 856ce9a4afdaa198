import type { Effort, Layout, Overlaps, Problem } from './separate.ts';
import { copyOf, fits, keptX, keptY, put, restore, separate, total } from './separate.ts';

/** A layout in which items still overlap, and by how much. */
interface Attempt {
  readonly layout: Layout;
  readonly loss: number;
}

/** Shares of the length by which a strip is shortened at a time, and how hard its items are then separated. */
const exploring = { shrink: 0.001, boldest: 0.03, easy: 15, rounds: 50, strikes: 2 };
const compressing = { from: 0.0005, to: 0.00001, rounds: 50, strikes: 2 };

/** How often a search that failed goes on from the best layout instead of a failure, and changes over two pairs instead of one. */
const disturbing = { fromBest: 0.25, twice: 0.5 };

export function usedLength({ turns }: Problem, { turn, x }: Layout): number {
  let length = 0;
  for (let i = 0; i < x.length; i++) length = Math.max(length, x[i]! + turns[turn[i]!]!.maxX);
  return length;
}

/** A layout without overlaps becomes the best one, no longer than its items reach. */
function adopt(problem: Problem, layout: Layout, best: Layout): void {
  layout.length = usedLength(problem, layout);
  restore(best, layout);
}

/** No strip is shorter than the longest item in its shortest turn. */
function leastLength({ turns, turnsOf }: Problem): number {
  const lengthOf = (turn: number): number => turns[turn]!.maxX - turns[turn]!.minX;
  return turnsOf.reduce((most, own) => Math.max(most, Math.min(...own.map(lengthOf))), 0);
}

/** Everything to the right of a cut moved left, and kept in the shorter strip; items too long for it take another turn. */
function shorten(problem: Problem, layout: Layout, length: number, cut: number): void {
  const by = layout.length - length;
  layout.length = length;
  for (let i = 0; i < layout.x.length; i++) {
    const { minX, maxX } = problem.turns[layout.turn[i]!]!;
    const x = layout.x[i]!;
    const moved = x + (minX + maxX) / 2 > cut ? x - by : x;
    const turn = fits(problem, layout, layout.turn[i]!)
      ? layout.turn[i]!
      : problem.turnsOf[i]!.find((other) => fits(problem, layout, other))!;
    const kept = keptX(problem, layout, turn, moved);
    put(problem, layout, i, turn, kept, keptY(problem, turn, layout.y[i]!));
  }
}

/**
 * Shortens the strip again and again from a layout without overlaps, and separates; where that fails,
 * goes on from one of the failures, or from the best layout, with two large items changed over, or four. Returns when `goOn` says no.
 */
export function explore(
  problem: Problem,
  best: Layout,
  overlaps: Overlaps,
  goOn: () => boolean,
  random: () => number,
  found: (layout: Layout) => void,
): void {
  let rounds = 0;
  const counted = (): boolean => {
    rounds++;
    return goOn();
  };
  const effort: Effort = { rounds: exploring.rounds, strikes: exploring.strikes, goOn: counted };
  const layout = copyOf(best);
  const least = leastLength(problem);
  let pool: Attempt[] = [];
  let shrink = exploring.boldest;
  const shortenBest = (): void => {
    const length = Math.max(least, best.length * (1 - shrink));
    shorten(problem, layout, length, random() * best.length);
  };
  shortenBest();
  while (best.length > least && goOn()) {
    rounds = 0;
    if (separate(problem, layout, overlaps, effort, random)) {
      adopt(problem, layout, best);
      found(best);
      pool = [];
      // Bold while it is easy.
      const factor = rounds <= exploring.easy ? 1.3 : 0.5;
      shrink = Math.min(exploring.boldest, Math.max(exploring.shrink, factor * shrink));
      shortenBest();
      continue;
    }
    if (shrink > exploring.shrink) {
      shrink = Math.max(exploring.shrink, shrink / 4);
      restore(layout, best);
      shortenBest();
      continue;
    }
    const loss = total(overlaps);
    const worse = pool.findIndex((one) => loss < one.loss);
    pool.splice(worse === -1 ? pool.length : worse, 0, { layout: copyOf(layout), loss });
    if (pool.length > 20) pool.pop();
    // Most often one of the best failures.
    const spread = Math.abs(normal(random)) * 0.25 * pool.length;
    restore(layout, pool[Math.min(pool.length - 1, Math.floor(spread))]!.layout);
    if (random() < disturbing.fromBest) {
      restore(layout, best);
      shortenBest();
    }
    disrupt(problem, layout, random);
    if (random() < disturbing.twice) disrupt(problem, layout, random);
  }
}

/** Shortens a good layout by ever less, always from the best. */
export function compress(
  problem: Problem,
  best: Layout,
  overlaps: Overlaps,
  goOn: () => boolean,
  share: () => number,
  random: () => number,
  found: (layout: Layout) => void,
): void {
  const effort: Effort = { rounds: compressing.rounds, strikes: compressing.strikes, goOn };
  const layout = copyOf(best);
  const least = leastLength(problem);
  while (best.length > least && goOn()) {
    restore(layout, best);
    const shrink = compressing.from + (compressing.to - compressing.from) * share();
    const length = Math.max(least, best.length * (1 - shrink));
    shorten(problem, layout, length, random() * best.length);
    if (!separate(problem, layout, overlaps, effort, random)) continue;
    adopt(problem, layout, best);
    found(best);
  }
}

function normal(random: () => number): number {
  return Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
}

/** Two large items of different kinds change places. */
function disrupt(problem: Problem, layout: Layout, random: () => number): void {
  const sizes = Array.from(layout.turn, (turn, i) => ({ i, size: problem.turns[turn]!.size }));
  sizes.sort((a, b) => b.size - a.size);
  const whole = sizes.reduce((sum, { size }) => sum + size * size, 0);
  let sum = 0;
  const large = sizes.filter(
    ({ size }) => (sum += size * size) <= 0.75 * whole || sum === size * size,
  );
  const pick = (from: typeof sizes): { i: number; size: number } =>
    from[(random() * from.length) | 0]!;
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
