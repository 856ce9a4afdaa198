import { circlesIn } from './circles.ts';
import { convexPieces } from './convex.ts';
import type { FixedItem, Problem, Turn } from './layout.ts';
import type { Shape } from './pair.ts';
import type { Box } from '../../geometry/paths/box.ts';
import { heightOf } from '../../geometry/paths/box.ts';
import { samePoint } from '../../geometry/paths/tolerance.ts';
import type { Ring } from './polygon.ts';
import { areaWithout, boxOf, hullOf, turned, twiceArea } from './polygon.ts';
import { simplified } from './simplify.ts';

/** Items to be laid on a strip: x along it from 0, y across it from 0 to `width`; any unit of length. */
export interface Instance {
  readonly width: number;
  readonly kinds: readonly Kind[];
  /** Where items may not lie, holes as in kinds. */
  readonly fixed?: readonly Pick<Kind, 'outline' | 'holes'>[];
  /** A layout without overlaps to begin with; items that it does not name are added to it. */
  readonly start?: readonly Placement[];
  /** Overlaps less deep than this are none; a hundred-millionth of the width where not given. */
  readonly slack?: number;
}

/** Where an item lies: turned about its origin, then moved by (x, y). */
export interface Placement {
  /** Which of the instance's kinds. */
  readonly kind: number;
  /** Degrees. */
  readonly rotation: number;
  readonly x: number;
  readonly y: number;
}

/** Items of one shape. Turned about their own origin, then moved. */
export interface Kind {
  /** Counter-clockwise, simple. */
  readonly outline: Ring;
  /** In which other items may lie. */
  readonly holes?: readonly Ring[];
  /** Degrees counter-clockwise. */
  readonly rotations: readonly number[];
  /** For each rotation the box that must lie in the strip; that of the outline where not given. */
  readonly kept?: readonly Box[];
  readonly demand: number;
}

/** An instance made ready for the search. */
export interface Prepared {
  readonly instance: Instance;
  readonly problem: Problem;
  /** For each item its kind. */
  readonly kindOf: readonly number[];
  /** For each turn its rotation and its contours, as the search sees them. */
  readonly rotations: readonly number[];
  readonly contours: readonly (readonly Ring[])[];
  /** Of all items. */
  readonly area: number;
}

/** Overlaps less deep than this share of the width are none: what sums of coordinates may be off. */
export const slackShare = 1e-8;
/**
 * By what share of its area an outline may be larger for the search, so as to have fewer corners, and
 * how carefully shapes are cut into pieces and filled with circles; past so many kinds it would take too long.
 */
const carefully = { larger: 0.001, orders: 40, grid: 72 };
const quickly = { larger: 0.003, orders: 3, grid: 32 };
export const manyKinds = 100;

/**
 * Turns, tables and circles of an instance. Throws RangeError on an instance that makes no sense: a
 * width that is no positive number, an outline without area or with numbers that are none, no turns, a
 * demand that is no whole number of 0 or more, an item that is wider than the strip in all its turns.
 */
export function prepared(instance: Instance): Prepared {
  checkInstance(instance);
  const { width, slack = slackShare * width } = instance;
  const turns: Turn[] = [];
  const shapes: Shape[] = [];
  const rotations: number[] = [];
  const contours: Ring[][] = [];
  const addTurn = (ring: Ring, holes: readonly Ring[], deg: number, kept?: Box): number => {
    const size = Math.sqrt(twiceArea(hullOf(ring)) / 2);
    const box = boxOf(ring);
    const { orders, grid } = careOf(instance);
    const pieces = convexPieces(ring, holes, orders);
    shapes.push({ pieces, circles: circlesIn(ring, holes, grid), size });
    rotations.push(deg);
    contours.push([ring, ...holes]);
    return turns.push({ ...box, kept: kept ?? box, size }) - 1;
  };
  const turnsOf: number[][] = [];
  const kindOf: number[] = [];
  let area = 0;
  for (const [index, kind] of instance.kinds.entries()) {
    if (kind.demand === 0) continue;
    const outline = outlineOf(kind, instance);
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
  const fixed = (instance.fixed ?? []).map(({ outline, holes = [] }): FixedItem => ({
    turn: addTurn(outline, holes, 0),
    x: 0,
    y: 0,
  }));
  return {
    instance,
    problem: { width, turns, turnsOf, fixed, shapes, slack, wraps: false },
    kindOf,
    rotations,
    contours,
    area,
  };
}

function careOf({ kinds }: Instance): typeof carefully {
  return kinds.length <= manyKinds ? carefully : quickly;
}

/** With fewer corners, where it still fits the strip. */
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

/** Throws RangeError as prepared does. */
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
