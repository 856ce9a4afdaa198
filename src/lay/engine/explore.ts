/**
 * Shortening the strip.
 *
 * The idea: take the best layout, push everything behind a random cut a little to the left, so that the
 * strip is shorter and some items overlap, and let the separator part them again. While that works the
 * steps stay bold. When the smallest step fails, too, the search goes on from one of its failures (a
 * layout that was nearly free of overlaps) with two large items changed over, which leads to other
 * arrangements. For the last part of the time the strip is only compressed: by ever smaller steps, always
 * from the best layout.
 */
import type { Layout, Problem } from './layout.ts';
import { copyOf, fits, keptX, keptY, put, restore } from './layout.ts';
import type { Rounds, Separator } from './separate.ts';

/** A layout that could not be freed of overlaps, and the sum of its severities. */
interface Attempt {
  readonly layout: Layout;
  readonly loss: number;
}

/** A layout without overlaps, made shorter and shorter. */
export interface Explorer {
  /** The shortest so far. */
  readonly best: Layout;
  /** Explores as described above, without end unless the strip cannot be shorter. */
  readonly explore: () => Rounds<void>;
  /**
   * Compresses as described above, without end unless the strip cannot be shorter. `share` is how much of the time for
   * it is over, 0 to 1: steps become smaller with it.
   */
  readonly compress: (share: () => number) => Rounds<void>;
}

/**
 * By which share of its length the strip is shortened at a time (`shrink` at least, `boldest` at most;
 * `from` ... `to` while compressing), and how hard the separator then tries. Items parted within `easy`
 * rounds call for a bolder step.
 */
const exploring = { shrink: 0.001, boldest: 0.03, easy: 15, rounds: 100, strikes: 3 };
const compressing = { from: 0.0005, to: 0.00001, rounds: 50, strikes: 2 };

/**
 * After a failure: the chance to go on from the best layout instead of a failure, the chance to change
 * over a second pair of items, and how many failures are kept to go on from.
 */
const disturbing = { fromBest: 0.25, twice: 0.5, kept: 20 };

/** An explorer that makes `best`, a layout without overlaps, shorter in place. `found` is called each time. */
export function explorer(
  problem: Problem,
  { layout, separate, overlap }: Separator,
  best: Layout,
  random: () => number,
  found: () => void,
): Explorer {
  const least = shortestStrip(problem);
  let shrink = exploring.boldest;

  const shortenBest = (by: number): void => {
    restore(layout, best);
    const length = Math.max(least, best.length * (1 - by));
    shorten(problem, layout, length, random() * best.length);
  };

  /** Makes the separator's layout, which is free of overlaps, the best one. The strip ends where its items end. */
  const adopt = (): void => {
    if (!problem.wraps) layout.length = usedLength(problem, layout);
    restore(best, layout);
    found();
  };

  /** Takes a failure, or the shortened best layout, and changes large items over in it. */
  const disturb = (failures: readonly Attempt[]): void => {
    // Half a normal distribution: failures with little overlap are taken most often.
    const spread = Math.abs(normal(random)) * 0.25 * failures.length;
    if (random() < disturbing.fromBest) shortenBest(shrink);
    else restore(layout, failures[Math.min(failures.length - 1, Math.floor(spread))]!.layout);
    changeOver(problem, layout, random);
    if (random() < disturbing.twice) changeOver(problem, layout, random);
  };

  function* explore(): Rounds<void> {
    let failures: Attempt[] = [];
    if (best.length > least) shortenBest(shrink);
    while (best.length > least) {
      yield;
      const rounds = yield* separate(exploring);
      if (rounds !== null) {
        adopt();
        failures = [];
        const factor = rounds <= exploring.easy ? 1.3 : 0.5;
        shrink = Math.min(exploring.boldest, Math.max(exploring.shrink, factor * shrink));
        shortenBest(shrink);
      } else if (shrink > exploring.shrink) {
        // Too bold: the same again with a smaller step.
        shrink = Math.max(exploring.shrink, shrink / 4);
        shortenBest(shrink);
      } else {
        keep(failures, { layout: copyOf(layout), loss: overlap() });
        disturb(failures);
      }
    }
  }

  function* compress(share: () => number): Rounds<void> {
    while (best.length > least) {
      yield;
      shortenBest(compressing.from + (compressing.to - compressing.from) * share());
      if ((yield* separate(compressing)) !== null) adopt();
    }
  }

  return { best, explore, compress };
}

/** Puts an attempt among the failures, those with least overlap first, and drops the worst beyond `kept`. */
function keep(failures: Attempt[], attempt: Attempt): void {
  const worse = failures.findIndex(({ loss }) => attempt.loss < loss);
  failures.splice(worse === -1 ? failures.length : worse, 0, attempt);
  if (failures.length > disturbing.kept) failures.pop();
}

/** From the strip's start to the far edge of the last movable item. */
export function usedLength({ turns, turnsOf }: Problem, { turn, x }: Layout): number {
  return turnsOf.reduce((most, _, i) => Math.max(most, x[i]! + turns[turn[i]!]!.kept.maxX), 0);
}

/**
 * A length below which no strip can be: that of the longest item, in its shortest turn, or what is taken
 * anyway. In a strip that wraps this also keeps an item from meeting its own image.
 */
export function shortestStrip({ turns, turnsOf, taken, wraps }: Problem): number {
  const lengthOf = (turn: number): number => {
    const { minX, maxX } = wraps ? turns[turn]! : turns[turn]!.kept;
    return maxX - minX;
  };
  return turnsOf.reduce((most, own) => Math.max(most, Math.min(...own.map(lengthOf))), taken);
}

/**
 * Shortens the strip: moves every item whose middle lies beyond `cut` to the left by what is taken away,
 * and keeps all items inside. An item that is too long for the strip in its turn takes another.
 */
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

/** A number of the standard normal distribution (Box and Muller). */
function normal(random: () => number): number {
  return Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
}

/** An item and a length that says how large it is. */
interface Sized {
  readonly i: number;
  readonly size: number;
}

/**
 * Two items of different kinds change places, large ones if there are: those that together make up three
 * quarters of all area (by the square of their size), and the largest in any case.
 */
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

/** Puts the middle of item i at (cx, cy), in a random turn that fits, moved as far as the strip demands. */
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
