import { isDeepStrictEqual } from 'node:util';
import { circlesIn } from './circles.ts';
import { dividedShape } from './divide.ts';
import type { FixedItem, Problem, Turn } from './layout.ts';
import type { Shape } from './pair.ts';
import type { Box } from '../../geometry/paths/box.ts';
import { heightOf, unionBox, widthOf } from '../../geometry/paths/box.ts';
import type { Ring } from './polygon.ts';
import { areaWithout, boxOf, hullOf, turned, twiceArea } from './polygon.ts';
import { simplified } from './simplify.ts';
import type { SoundContours } from './sound.ts';
import { soundContours } from './sound.ts';

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
  /** A layout without overlaps to begin with. Items that it does not have, and those whose places cannot be, are added to it. */
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
  /**
   * Counter-clockwise. It may touch itself, and run out and back along one line; it may not cross itself by
   * more than a millionth of its size.
   */
  readonly outline: Ring;
  /** Other items may lie in these. They may touch each other and the outline. */
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

/** So many times the width a corner may be from its origin: further out a place has too few digits for the slack. */
const farthest = 1e7;

/**
 * Makes an instance ready: each kind in each turn that fits the strip, cut into convex pieces and filled
 * with circles. Throws RangeError on an instance that makes no sense: a width that is not a positive
 * number; a slack or what is taken that is none; corners too far from the origin; contours that
 * soundContours refuses; a kind without rotations; a demand that is not a whole number of at least 0; an item that is wider than the strip in all its rotations. Once `stopped` says yes,
 * outlines and their sizes are only taken roughly: nobody searches with them any more.
 */
export function prepared(instance: Instance, stopped: () => boolean = () => false): Prepared {
  const sound = soundShapes(instance);
  const { width } = instance;
  const slack = slackOf(instance);
  const { larger, orders, grid } = careOf(instance);
  const turns: Turn[] = [];
  const shapes: Shape[] = [];
  const rotations: number[] = [];
  const contours: Ring[][] = [];
  const addTurn: AddTurn = (shape, deg, kept) => {
    const given = turnedContours(shape, deg);
    const divided = once(() => dividedShape(given, orders, slack));
    // Dividing changes nothing but holes: without any it waits until a search asks for the pieces.
    const { outline, holes } = given.holes.length === 0 || stopped() ? given : divided();
    const box = boxOf(outline);
    const area = stopped() ? heightOf(box) * widthOf(box) : twiceArea(hullOf(outline)) / 2;
    const size = Math.sqrt(area);
    const circles = once(() => circlesIn(outline, holes, grid));
    shapes.push({ pieces: () => divided().pieces, circles, size });
    rotations.push(deg);
    contours.push([outline, ...holes]);
    return turns.push({ ...box, kept: kept ?? box, size }) - 1;
  };
  const turnsOf: number[][] = [];
  const kindOf: number[] = [];
  let area = 0;
  for (const [index, kind] of instance.kinds.entries()) {
    if (kind.demand === 0) continue;
    const shape = sound.kinds[index]!;
    const simple = stopped() ? shape : simplifiedContours(shape, larger, slack);
    const own: number[] = [];
    for (const [k, deg] of kind.rotations.entries()) {
      const given = boxOf(turned(shape.outline, deg));
      const box = kind.kept?.[k] ?? given;
      if (!fitsStrip(box, instance)) continue;
      // Spikes without width are no more than a part of the box.
      const whole = unionBox(given, boxOf(turned(simple.outline, deg)));
      // Where only the outline as given fits, the simplified one hangs over the strip's sides.
      const kept = kind.kept === undefined && fitsStrip(whole, instance) ? whole : box;
      own.push(addTurn(simple, deg, kept));
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
  const obstacles = sound.fixed.map((one): FixedItem => ({
    turn: addTurn(simplifiedContours(one, 0, slack), 0),
    x: 0,
    y: 0,
  }));
  const pinned = pinnedItems(
    instance,
    sound.pinned.map((one) => simplifiedContours(one, larger, slack)),
    addTurn,
    (kind, deg) => turnsOf[kindOf.indexOf(kind)]?.find((turn) => rotations[turn] === deg),
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

/** Adds a shape in a turn, degrees, of which the box `kept` must lie in the strip. Returns the turn's number. */
type AddTurn = (shape: SoundContours, deg: number, kept?: Box) => number;

/**
 * The pinned items where they lie, of the `shapes` given. Those of one shape and turn share that turn with
 * each other, and with items to be laid where there are such (`turnLike` finds it by kind and degrees): what
 * is worked out for a pair of shapes is worked out once for all of them.
 */
function pinnedItems(
  instance: Instance,
  shapes: readonly SoundContours[],
  addTurn: AddTurn,
  turnLike: (kind: number, deg: number) => number | undefined,
): FixedItem[] {
  return (instance.pinned ?? []).flatMap(({ outline, holes = [], places }, i) => {
    const kind = instance.kinds.findIndex((one) =>
      isDeepStrictEqual([one.outline, one.holes ?? []], [outline, holes]),
    );
    const known = new Map<number, number>();
    return places.map(({ rotation, x, y }): FixedItem => {
      const turn = known.get(rotation) ?? turnLike(kind, rotation) ?? addTurn(shapes[i]!, rotation);
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

function slackOf({ width, slack = slackShare * width }: Instance): number {
  return slack;
}

/**
 * Contours with fewer corners, which hold the given ones: an exact search past those of a drawing would take
 * many times as long. Holes so narrow that nothing is left of them count as material.
 */
function simplifiedContours(shape: SoundContours, larger: number, slack: number): SoundContours {
  return {
    ...shape,
    outline: simplified(shape.outline, larger, slack),
    holes: shape.holes
      .map((hole) => simplified(hole, 0, slack))
      .filter((hole) => twiceArea(hole) < 0),
  };
}

function turnedContours(shape: SoundContours, deg: number): SoundContours {
  return {
    ...shape,
    outline: turned(shape.outline, deg),
    holes: shape.holes.map((hole) => turned(hole, deg)),
  };
}

/** Whether a box is no higher than the strip is wide, within the slack. */
function fitsStrip(box: Box, instance: Instance): boolean {
  return heightOf(box) <= instance.width + slackOf(instance);
}

/** Throws the RangeErrors that `prepared` documents. */
export function checkInstance(instance: Instance): void {
  soundShapes(instance);
}

/** The contours of the shapes of an instance. */
type SoundShapes = Readonly<Record<'kinds' | 'fixed' | 'pinned', readonly SoundContours[]>>;

/** The contours of all shapes of an instance, made sound. Throws the RangeErrors that `prepared` documents. */
function soundShapes(instance: Instance): SoundShapes {
  const { width, kinds, fixed = [], pinned = [], taken = 0 } = instance;
  if (!(width > 0 && width < Infinity)) throw new RangeError(`the strip is ${width} wide`);
  const slack = slackOf(instance);
  if (!(slack >= 0 && slack < width)) throw new RangeError(`the slack is ${slack}`);
  if (!(taken >= 0 && taken < Infinity)) throw new RangeError(`${taken} of the strip is taken`);
  const sound = {
    kinds: kinds.map((kind, i) => soundContours(`item ${i}`, kind)),
    fixed: fixed.map((one, i) => soundContours(`fixed shape ${i}`, one)),
    pinned: pinned.map((one, i) => soundContours(`pinned shape ${i}`, one)),
  };
  for (const [i, kind] of kinds.entries()) checkKind(kind, sound.kinds[i]!, instance);
  for (const shape of [sound.kinds, sound.fixed, sound.pinned].flat()) {
    const most = shape.outline.reduce((far, value) => Math.max(far, Math.abs(value)), 0);
    if (most > farthest * width) {
      throw new RangeError(
        `${shape.name} lies so far from its origin that its places would be inexact`,
      );
    }
  }
  return sound;
}

function checkKind(
  { rotations, kept, demand }: Kind,
  { name, outline }: SoundContours,
  instance: Instance,
): void {
  if (rotations.length === 0) throw new RangeError(`${name} may not lie in any turn`);
  if (!rotations.every(Number.isFinite)) throw new RangeError(`${name} has a turn that is none`);
  if (!(Number.isInteger(demand) && demand >= 0)) {
    throw new RangeError(`${name} is wanted ${demand} times`);
  }
  const boxes = rotations.map((deg, k) => kept?.[k] ?? boxOf(turned(outline, deg)));
  if (demand > 0 && !boxes.some((box) => fitsStrip(box, instance))) {
    throw new RangeError(`${name} is wider than the strip in every turn`);
  }
}
