import { rememberedFor } from '../../base/remembered.ts';
import { usedLength } from './explore.ts';
import { inColumns } from './columns.ts';
import type { Prepared } from './instance.ts';
import { hasManyKinds } from './instance.ts';
import type { Layout, PlacedTurn } from './layout.ts';
import { newLayout, put } from './layout.ts';
import { simplified } from './simplify.ts';
import type { BlockedBelow, LaidShape } from './place.ts';
import type { SlicedTurn } from './slices.ts';
import { bestSpot } from './place.ts';
import { newShifts, rememberedShifts } from './shifts.ts';
import { slicesOfRings } from './slices.ts';

/**
 * With many kinds, answers cannot be remembered from one item to the next, so the first layout is made
 * roughly: outlines simplified until they are larger by this share, and fewer heights tried.
 */
const roughShare = 0.06;
const roughLines = 24;
const fineLines = 48;

/**
 * Once it is stopped, so many items are still laid with care: in a run of some hundred parts that takes a fraction of a
 * second. With many kinds it would take longer, and none are.
 */
const stillLaid = 300;

/** The turns of an instance by their number, cut into slices: each once, for the instance and its blocks. */
export function slicedTurns(ready: Prepared): (turn: number) => SlicedTurn {
  const known = slicesKept(ready.contours);
  return (turn) => (known[turn] ??= sliced(ready, turn));
}

const slicesKept = rememberedFor((contours: Prepared['contours']): (SlicedTurn | undefined)[] =>
  contours.map(() => undefined),
);

function sliced({ problem, contours, instance }: Prepared, turn: number): SlicedTurn {
  const [outer, ...holes] = contours[turn]!;
  const outline = hasManyKinds(instance) ? simplified(outer!, roughShare) : outer!;
  const slices = slicesOfRings([outline, ...holes]);
  return { turn, box: problem.turns[turn]!.kept, slices };
}

/**
 * A layout without overlaps: items laid one after another, largest first, each where it reaches least far
 * along the strip. They go around the fixed ones, and around those that `known` has in place already, by
 * their number. `stopped` is asked before each item: once it says yes, most of those that are left are put into columns
 * behind the others, so that even the layout of a thousand items is there at once.
 */
export function firstLayout(
  instance: Prepared,
  known: ReadonlyMap<number, PlacedTurn> = new Map(),
  stopped: () => boolean = () => false,
): Layout {
  const { problem } = instance;
  const turnOf = slicedTurns(instance);
  const layout = newLayout(problem);
  const placed: LaidShape[] = [];
  const boxes = new Float64Array(layout.boxes.length);
  const add = (laid: LaidShape): void => {
    const { minX, maxX, minY, maxY } = laid.shape.slices.box;
    const { x, y } = laid;
    boxes.set([minX + x, maxX + x, minY + y, maxY + y], 4 * placed.length);
    placed.push(laid);
  };
  const lay = (i: number, { shape, x, y }: LaidShape): void => {
    add({ shape, x, y });
    put(problem, layout, i, shape.turn, x, y);
  };
  for (const { turn, x, y } of problem.fixed) add({ shape: turnOf(turn), x, y });
  // Pinned items are like those that are laid: only obstacles call for heights of their own.
  const fixed = placed.slice(0, instance.instance.fixed?.length ?? 0);
  for (const [i, { turn, x, y }] of known) lay(i, { shape: turnOf(turn), x, y });
  const many = hasManyKinds(instance.instance);
  const field = { width: problem.width, gridLines: many ? roughLines : fineLines };
  const shifts = many ? newShifts() : rememberedShifts(problem.turns.length);
  const reached: BlockedBelow = new Map();
  const sizeOf = (i: number): number => problem.turns[problem.turnsOf[i]![0]!]!.size;
  const waiting = problem.turnsOf
    .map((_, i) => i)
    .filter((i) => !known.has(i))
    .sort((a, b) => sizeOf(b) - sizeOf(a));
  let careful = many ? 0 : stillLaid;
  for (const [nth, i] of waiting.entries()) {
    if (stopped() && careful-- <= 0) {
      const end = placed.reduce((most, _, k) => Math.max(most, boxes[4 * k + 1]!), 0);
      const rest = inColumns(problem, waiting.slice(nth), end);
      for (const [item, { turn, x, y }] of rest) put(problem, layout, item, turn, x, y);
      break;
    }
    const shapes = problem.turnsOf[i]!.map(turnOf);
    lay(i, bestSpot(shapes, { field, placed, boxes, fixed, shifts, reached }));
  }
  layout.length = usedLength(problem, layout);
  return layout;
}
