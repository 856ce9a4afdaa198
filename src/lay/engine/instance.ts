import { circlesIn } from './circles.ts';
import { convexPieces } from './convex.ts';
import type { Shape } from './pair-table.ts';
import type { Ring } from './polygon.ts';
import { boxOf, hullOf, turned, twiceArea } from './polygon.ts';
import type { Problem, Turn } from './separate.ts';
import { simplified } from './simplify.ts';

/** Items to be laid on a strip: x along it from 0, y across it from 0 to `width`; any unit of length. */
export interface Instance {
  readonly width: number;
  readonly kinds: readonly Kind[];
}

/** Items of one shape. Turned about their own origin, then moved. */
export interface Kind {
  /** Counter-clockwise, simple. */
  readonly outline: Ring;
  /** In which other items may lie. */
  readonly holes?: readonly Ring[];
  /** Degrees counter-clockwise. */
  readonly rotations: readonly number[];
  readonly demand: number;
}

/** An instance made ready for the search. */
export interface Prepared {
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
const slackShare = 1e-8;
/** Share of its area by which an outline may be larger for the search, so as to have fewer corners. */
const simplifyShare = 0.001;

/**
 * Turns, tables and circles of an instance. Throws RangeError on an instance that makes no sense: a
 * width that is no positive number, an outline without area or with numbers that are none, no turns, a
 * demand that is no whole number of 0 or more, an item that is wider than the strip in all its turns.
 */
export function prepared(instance: Instance): Prepared {
  check(instance);
  const turns: Turn[] = [];
  const shapes: Shape[] = [];
  const rotations: number[] = [];
  const contours: Ring[][] = [];
  const turnsOf: number[][] = [];
  const kindOf: number[] = [];
  let area = 0;
  for (const [index, kind] of instance.kinds.entries()) {
    if (kind.demand === 0) continue;
    const outline = simplified(kind.outline, simplifyShare);
    const own: number[] = [];
    for (const deg of kind.rotations) {
      const ring = turned(outline, deg);
      const holes = (kind.holes ?? []).map((hole) => turned(hole, deg));
      const box = boxOf(ring);
      if (box.maxY - box.minY > instance.width) continue;
      own.push(turns.length);
      const size = Math.sqrt(twiceArea(hullOf(ring)) / 2);
      turns.push({ ...box, size });
      shapes.push({ pieces: convexPieces(ring, holes), circles: circlesIn(ring, holes), size });
      rotations.push(deg);
      contours.push([ring, ...holes]);
    }
    if (own.length === 0)
      throw new RangeError(`item ${index} is wider than the strip in every turn`);
    for (let k = 0; k < kind.demand; k++) {
      turnsOf.push(own);
      kindOf.push(index);
      area += areaOf(kind);
    }
  }
  const slack = slackShare * instance.width;
  const problem = { width: instance.width, turns, turnsOf, shapes, slack, tables: [] };
  return { problem, kindOf, rotations, contours, area };
}

function areaOf({ outline, holes = [] }: Kind): number {
  return holes.reduce((sum, hole) => sum - Math.abs(twiceArea(hole)), twiceArea(outline)) / 2;
}

function check({ width, kinds }: Instance): void {
  if (!(width > 0 && width < Infinity)) throw new RangeError(`the strip is ${width} wide`);
  for (const [index, { outline, holes = [], rotations, demand }] of kinds.entries()) {
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
  }
}
