import { boxOfPoints } from '../../geometry/box.ts';
import type { Item } from '../items.ts';
import { seededRandom } from '../random.ts';
import { search } from '../search.ts';
import type { Shape as SlicedShape } from '../shape.ts';
import { slicesOf } from '../slices.ts';
import { compress, explore, usedLength } from './explore.ts';
import type { Prepared } from './instance.ts';
import type { Layout } from './separate.ts';
import { newLayout, newOverlaps, put } from './separate.ts';

/** Where an item lies: turned about its origin, then moved by (x, y). */
export interface Placement {
  /** Which of the instance's kinds. */
  readonly kind: number;
  /** Degrees. */
  readonly rotation: number;
  readonly x: number;
  readonly y: number;
}

export interface Nest {
  readonly length: number;
  /** In the order of the kinds. */
  readonly placements: readonly Placement[];
}

export interface Budget {
  /** How much of the budget is used, 0 to 1 and beyond; asked after every round of moves. */
  readonly used: () => number;
  /** Told of every shorter layout. */
  readonly found?: (nest: Nest) => void;
}

/** The share of the budget after which a layout is only compressed. */
const exploreShare = 0.8;

/**
 * Lays the items of an instance: largest first from the start of the strip, then shorter and shorter
 * (explore, compress) until the budget is used. No two items overlap by more than the slack. The same
 * seed and a budget in rounds give the same layout on any machine.
 */
export function nest(instance: Prepared, seed: number, { used, found }: Budget): Nest {
  const { problem } = instance;
  const count = problem.turnsOf.length;
  if (count === 0) return { length: 0, placements: [] };
  const random = seededRandom(seed);
  const best = firstLayout(instance, seed);
  const tell = (layout: Layout): void => found?.(nestOf(instance, layout));
  tell(best);
  const overlaps = newOverlaps(count);
  explore(problem, best, overlaps, () => used() < exploreShare, random, tell);
  const share = (): number => Math.max(0, (used() - exploreShare) / (1 - exploreShare));
  compress(problem, best, overlaps, () => used() < 1, share, random, tell);
  return nestOf(instance, best);
}

function nestOf({ kindOf, rotations }: Prepared, layout: Layout): Nest {
  const placements = kindOf.map((kind, i) => ({
    kind,
    rotation: rotations[layout.turn[i]!]!,
    x: layout.x[i]!,
    y: layout.y[i]!,
  }));
  return { length: layout.length, placements };
}

/** The items laid one after another, largest first, each where it reaches least far. */
function firstLayout({ problem, contours }: Prepared, seed: number): Layout {
  const sliced = problem.turns.map((_, turn): SlicedShape => {
    const rings = contours[turn]!.map((ring) =>
      Array.from({ length: ring.length / 2 }, (__, i) => ({
        x: ring[2 * i]!,
        y: ring[2 * i + 1]!,
      })),
    );
    return { rotation: turn, box: boxOfPoints(rings.flat()), slices: slicesOf(rings) };
  });
  const shapesOf = new Map(
    problem.turnsOf.map((turns) => [turns, turns.map((turn) => sliced[turn]!)]),
  );
  const items = problem.turnsOf.map((turns, i): Item => ({
    label: String(i),
    shapes: shapesOf.get(turns)!,
    area: problem.turns[turns[0]!]!.size ** 2,
  }));
  const field = { minX: 0, minY: 0, maxY: problem.width, biteLength: Infinity };
  const layout = newLayout(items.length);
  for (const { best } of search(items, field, seed)) {
    if (best === null) continue;
    for (const [k, item] of best.order.entries()) {
      const { shape, x, y } = best.spots[k]!;
      put(problem, layout, Number(item.label), shape.rotation, x, y);
    }
    break;
  }
  layout.length = usedLength(problem, layout);
  return layout;
}
