import { isDeepStrictEqual } from 'node:util';
import { circlesIn } from './circles.ts';
import { convexPieces } from './convex.ts';
import type { FixedItem, Problem, Turn } from './layout.ts';
import type { Shape } from './pair.ts';
import type { Box } from '../../geometry/paths/box.ts';
import { heightOf, widthOf } from '../../geometry/paths/box.ts';
import { samePoint } from '../../geometry/paths/tolerance.ts';
import type { Ring } from './polygon.ts';
import { areaWithout, boxOf, hullOf, turned, twiceArea } from './polygon.ts';
import { simplified } from './simplify.ts';

/** Items to be laid on a strip: x along it from 0, y across it from 0 to `width`, in any unit of length. */
export interface Instance {
  readonly width: number;
  readonly kinds: readonly Kind[];
  /** Shapes that lie fixed in the strip, which items may not overlap. In their holes items may lie. */
  readonly fixed?: readonly Pick<Kind, 'outline' | 'holes'>[];
  /** Items that have their places already and stay there. Others are laid around them, and in their holes. */
  readonly pinned?: readonly PinnedKind[];
  /** So much of the strip is taken whatever is laid, as by pinned items: to lay the others shorter gains nothing. */
  readonly taken?: number;
  /** A layout without overlaps to begin with. Items that it does not have are added to it. */
  readonly start?: readonly ItemPlacement[];
  /** Overlaps less deep than this count as none; left out: a hundred-millionth of the width. */
  readonly slack?: number;
}

/** Where an item lies: turned about its origin, then moved by (x, y). */
export interface ItemPlacement {
  /** Which of the instance's kinds. */
  readonly kind: number;
  /** Degrees. */
  readonly rotation: number;
  readonly x: number;
  readonly y: number;
}

/** Items of one shape. An item is turned about the origin of its outline, then moved. */
export interface Kind {
  /** Counter-clockwise, simple. */
  readonly outline: Ring;
  /** Other items may lie in these. */
  readonly holes?: readonly Ring[];
  /** Degrees counter-clockwise. */
  readonly rotations: readonly number[];
  /** For each rotation the box that must lie in the strip; left out: the box of the outline. */
  readonly kept?: readonly Box[];
  /** How many of them are to be laid. */
  readonly demand: number;
}

/** Items of one shape that stay where they are. */
export interface PinnedKind extends Pick<Kind, 'outline' | 'holes'> {
  readonly places: readonly Omit<ItemPlacement, 'kind'>[];
}

/** An instance with all that the search needs worked out. */
export interface Prepared {
  readonly instance: Instance;
  readonly problem: Problem;
  /** The kind of each item, by the item's number. */
  readonly kindOf: readonly number[];
  /** The rotation of each turn in degrees, and its contours as the search sees them, outline first. */
  readonly rotations: readonly number[];
  readonly contours: readonly (readonly Ring[])[];
  /** The area of all items together. */
  readonly area: number;
}

/** The slack as a share of the width: what sums of coordinates may be off. */
export const slackShare = 1e-8;
/**
 * How carefully shapes are made ready. `larger`: the share of its area by which an outline may grow so as
 * to have fewer corners. `orders`: see convexPieces. `grid`: see circlesIn. With more than `manyKinds` kinds
 * the careful way would take too long.
 */
const carefully = { larger: 0.001, orders: 40, grid: 72 };
const quickly = { larger: 0.003, orders: 3, grid: 32 };
const manyKinds = 100;

/**
 * Makes an instance ready: each kind in each turn that fits the strip, cut into convex pieces and filled
 * with circles. Throws RangeError on an instance that makes no sense: a width that is not a positive
 * number; an outline without area, running clockwise, or with a value that is not a number; a kind without
 * rotations; a demand that is not a whole number of at least 0; an item that is wider than the strip in
 * all its rotations. Once `stopped` says yes, outlines and their sizes are only taken roughly: nobody
 * searches with them any more.
 */
export function prepared(instance: Instance, stopped: () => boolean = () => false): Prepared {
  checkInstance(instance);
  const { width, slack = slackShare * width } = instance;
  const turns: Turn[] = [];
  const shapes: Shape[] = [];
  const rotations: number[] = [];
  const contours: Ring[][] = [];
  const addTurn = (ring: Ring, holes: readonly Ring[], deg: number, kept?: Box): number => {
    const box = boxOf(ring);
    const area = stopped() ? heightOf(box) * widthOf(box) : twiceArea(hullOf(ring)) / 2;
    const size = Math.sqrt(area);
    const { orders, grid } = careOf(instance);
    const pieces = once(() => convexPieces(ring, holes, orders));
    const circles = once(() => circlesIn(ring, holes, grid));
    shapes.push({ pieces, circles, size });
    rotations.push(deg);
    contours.push([ring, ...holes]);
    return turns.push({ ...box, kept: kept ?? box, size }) - 1;
  };
  const turnsOf: number[][] = [];
  const kindOf: number[] = [];
  let area = 0;
  for (const [index, kind] of instance.kinds.entries()) {
    if (kind.demand === 0) continue;
    const outline = stopped() ? kind.outline : outlineOf(kind, instance);
    const own: number[] = [];
    for (const [k, deg] of kind.rotations.entries()) {
      const ring = turned(outline, deg);
      const kept = kind.kept?.[k] ?? boxOf(ring);
      if (!fitsStrip(kept, width)) continue;
      const holes = (kind.holes ?? []).map((hole) => turned(hole, deg));
      own.push(addTurn(ring, holes, deg, kept));
    }
    for (const turn of own) {
      const half = own.find(
        (other) => Math.abs(rotations[other]! - rotations[turn]!) % 360 === 180,
      );
      if (half !== undefined) shapes[turn] = { ...shapes[turn]!, halfTurned: half };
    }
    for (let k = 0; k < kind.demand; k++) {
      turnsOf.push(own);
      kindOf.push(index);
      area += areaWithout(kind.outline, kind.holes ?? []);
    }
  }
  const obstacles = (instance.fixed ?? []).map(({ outline, holes = [] }): FixedItem => ({
    turn: addTurn(outline, holes, 0),
    x: 0,
    y: 0,
  }));
  const pinned = pinnedItems(instance, addTurn, (kind, deg) =>
    turnsOf[kindOf.indexOf(kind)]?.find((turn) => rotations[turn] === deg),
  );
  const fixed = [...obstacles, ...pinned];
  return {
    instance,
    problem: {
      width,
      turns,
      turnsOf,
      fixed,
      taken: instance.taken ?? 0,
      shapes,
      slack,
      wraps: false,
    },
    kindOf,
    rotations,
    contours,
    area,
  };
}

/**
 * The pinned items where they lie. Those of one shape and turn share that turn with each other, and with
 * items to be laid where there are such (`turnLike` finds it by kind and degrees): what is worked out for
 * a pair of shapes is worked out once for all of them. Their outlines have as few corners as those of other
 * items: a search past exact ones would take many times as long.
 */
function pinnedItems(
  instance: Instance,
  addTurn: (ring: Ring, holes: readonly Ring[], deg: number) => number,
  turnLike: (kind: number, deg: number) => number | undefined,
): FixedItem[] {
  return (instance.pinned ?? []).flatMap(({ outline, holes = [], places }) => {
    const kind = instance.kinds.findIndex((one) =>
      isDeepStrictEqual([one.outline, one.holes ?? []], [outline, holes]),
    );
    const simple = simplified(outline, careOf(instance).larger);
    const known = new Map<number, number>();
    return places.map(({ rotation, x, y }): FixedItem => {
      const turn =
        known.get(rotation) ??
        turnLike(kind, rotation) ??
        addTurn(
          turned(simple, rotation),
          holes.map((hole) => turned(hole, rotation)),
          rotation,
        );
      known.set(rotation, turn);
      return { turn, x, y };
    });
  });
}

/** What `make` gives, made when it is first asked for. */
function once<T>(make: () => T): () => T {
  let made: { readonly value: T } | null = null;
  return () => (made ??= { value: make() }).value;
}

/** Whether an instance has so many kinds, pinned ones included, that it can only be made ready roughly. */
export function hasManyKinds({ kinds, pinned = [] }: Instance): boolean {
  return kinds.length + pinned.length > manyKinds;
}

function careOf(instance: Instance): typeof carefully {
  return hasManyKinds(instance) ? quickly : carefully;
}

/** The outline of a kind with fewer corners, unless it would then no longer fit the strip. */
function outlineOf(kind: Kind, instance: Instance): Ring {
  const { width } = instance;
  const { larger } = careOf(instance);
  const simple = simplified(kind.outline, larger);
  const fits = kind.rotations.some((deg, k) =>
    fitsStrip(kind.kept?.[k] ?? boxOf(turned(simple, deg)), width),
  );
  return fits ? simple : kind.outline;
}

function fitsStrip(box: Box, width: number): boolean {
  return heightOf(box) <= width + samePoint;
}

/** Throws the RangeErrors that `prepared` documents. */
export function checkInstance({ width, kinds }: Instance): void {
  if (!(width > 0 && width < Infinity)) throw new RangeError(`the strip is ${width} wide`);
  for (const [index, { outline, holes = [], rotations, kept, demand }] of kinds.entries()) {
    const numbers = [...outline, ...holes.flat(), ...rotations];
    if (!numbers.every(Number.isFinite))
      throw new RangeError(`item ${index} has a number that is none`);
    if (outline.length < 6 || !(twiceArea(outline) > 0)) {
      throw new RangeError(`item ${index} has no area, or runs clockwise`);
    }
    if (rotations.length === 0) throw new RangeError(`item ${index} may not lie in any turn`);
    if (!(Number.isInteger(demand) && demand >= 0)) {
      throw new RangeError(`item ${index} is wanted ${demand} times`);
    }
    const turns = rotations.map((deg, k) => kept?.[k] ?? boxOf(turned(outline, deg)));
    if (demand > 0 && !turns.some((box) => fitsStrip(box, width))) {
      throw new RangeError(`item ${index} is wider than the strip in every turn`);
    }
  }
}
