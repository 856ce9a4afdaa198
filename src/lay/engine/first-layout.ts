import { usedLength } from './explore.ts';
import type { Prepared } from './instance.ts';
import { hasManyKinds } from './instance.ts';
import type { Layout } from './layout.ts';
import { newLayout, put } from './layout.ts';
import { cornersOf } from './polygon.ts';
import { simplified } from './simplify.ts';
import type { BlockedBelow, LaidShape } from './place.ts';
import type { SlicedTurn } from './slices.ts';
import { bestSpot } from './place.ts';
import { newShifts, rememberedShifts } from './shifts.ts';
import { slicesOf } from './slices.ts';

/** Where an item lies: in which turn, and its origin. */
export interface PlacedTurn {
  readonly turn: number;
  readonly x: number;
  readonly y: number;
}

/**
 * With many kinds, answers cannot be remembered from one item to the next, so the first layout is made
 * roughly: outlines simplified until they are larger by this share, and fewer heights tried.
 */
const roughShare = 0.06;
const roughLines = 24;
const fineLines = 48;

/** All turns of an instance, cut into slices. */
export function slicedTurns({ problem, contours, instance }: Prepared): SlicedTurn[] {
  const roughly = hasManyKinds(instance);
  return problem.turns.map(({ kept }, turn) => {
    const [outer, ...holes] = contours[turn]!;
    const outline = roughly ? simplified(outer!, roughShare) : outer!;
    const rings = [outline, ...holes].map((ring) => cornersOf(ring).map(([x, y]) => ({ x, y })));
    return { turn, box: kept, slices: slicesOf(rings) };
  });
}

/**
 * A layout without overlaps: items laid one after another, largest first, each where it reaches least far
 * along the strip. They go around the fixed ones, and around those that `known` has in place already, by
 * their number.
 */
export function firstLayout(
  instance: Prepared,
  known: ReadonlyMap<number, PlacedTurn> = new Map(),
): Layout {
  const { problem } = instance;
  const sliced = slicedTurns(instance);
  const layout = newLayout(problem);
  const placed = problem.fixed.map(({ turn, x, y }): LaidShape => ({ shape: sliced[turn]!, x, y }));
  // Pinned items are like those that are laid: only obstacles call for heights of their own.
  const fixed = placed.slice(0, instance.instance.fixed?.length ?? 0);
  const lay = (i: number, { shape, x, y }: LaidShape): void => {
    placed.push({ shape, x, y });
    put(problem, layout, i, shape.turn, x, y);
  };
  for (const [i, { turn, x, y }] of known) lay(i, { shape: sliced[turn]!, x, y });
  const many = hasManyKinds(instance.instance);
  const field = { width: problem.width, gridLines: many ? roughLines : fineLines };
  const shifts = many ? newShifts : rememberedShifts();
  const reached: BlockedBelow = new Map();
  const sizeOf = (i: number): number => problem.turns[problem.turnsOf[i]![0]!]!.size;
  const waiting = problem.turnsOf
    .map((_, i) => i)
    .filter((i) => !known.has(i))
    .sort((a, b) => sizeOf(b) - sizeOf(a));
  for (const i of waiting) {
    const shapes = problem.turnsOf[i]!.map((turn) => sliced[turn]!);
    lay(i, bestSpot(shapes, { field, placed, fixed, shifts, reached }));
  }
  layout.length = usedLength(problem, layout);
  return layout;
}
