import type { Box } from '../../geometry/paths/box.ts';
import { boxesOverlap } from '../../geometry/paths/box.ts';
import type { Instance, ItemPlacement, Kind } from './instance.ts';
import { boxOf, turned } from './polygon.ts';
import type { Slices } from './slices.ts';
import { forbiddenShifts, slicesOfRings } from './slices.ts';

/**
 * So much, as a share of the strip's width, places may be off: they are written rounded, or were found for outlines that
 * were simplified otherwise.
 */
const looseShare = 1e-3;

/** A shape where it lies. */
interface LyingShape {
  readonly x: number;
  readonly y: number;
  readonly slices: Slices;
  readonly box: Box;
}

/**
 * The places of an instance's start that can be. Left out is what is no number, is of no kind, in no allowed turn,
 * more than is wanted, not in the strip, or over a place before it or what lies fixed: such items are laid anew. The
 * shapes of the instance must be sound.
 */
export function soundStart(instance: Instance): ItemPlacement[] {
  const { start = [], kinds, fixed = [], pinned = [], width } = instance;
  if (start.length === 0) return [];
  const most = looseShare * width;
  const lying = layer();
  const unmoved = { rotation: 0, x: 0, y: 0 };
  const taken = [
    ...fixed.map((shape) => lying(shape, unmoved)),
    ...pinned.flatMap((shape) => shape.places.map((at) => lying(shape, at))),
  ];
  const counts = kinds.map(() => 0);
  return start.filter((place) => {
    const kind = kinds[place.kind];
    if (kind === undefined || counts[place.kind]! >= kind.demand) return false;
    if (!mayLie(place, kind, width, most)) return false;
    const own = lying(kind, place);
    if (taken.some((other) => overlap(own, other, most))) return false;
    taken.push(own);
    counts[place.kind]!++;
    return true;
  });
}

function mayLie(
  { rotation, x, y }: ItemPlacement,
  { outline, rotations, kept }: Kind,
  width: number,
  most: number,
): boolean {
  const turn = rotations.indexOf(rotation);
  if (turn < 0) return false;
  const { minX, minY, maxY } = kept?.[turn] ?? boxOf(turned(outline, rotation));
  // Written so that what is no number may not lie there, either.
  return minX + x >= -most && minY + y >= -most && maxY + y <= width + most && x < Infinity;
}

/** Gives shapes where they lie; many items are alike, and are cut into slices once. */
function layer() {
  const known = new Map<unknown, Map<number, Slices>>();
  return (
    shape: Pick<Kind, 'outline' | 'holes'>,
    { rotation, x, y }: Omit<ItemPlacement, 'kind'>,
  ): LyingShape => {
    const turns = known.get(shape) ?? new Map<number, Slices>();
    known.set(shape, turns);
    const slices = turns.get(rotation) ?? slicedAt(shape, rotation);
    turns.set(rotation, slices);
    const { minX, maxX, minY, maxY } = slices.box;
    const box = { minX: minX + x, maxX: maxX + x, minY: minY + y, maxY: maxY + y };
    return { x, y, slices, box };
  };
}

function slicedAt({ outline, holes = [] }: Pick<Kind, 'outline' | 'holes'>, deg: number): Slices {
  return slicesOfRings([outline, ...holes].map((ring) => turned(ring, deg)));
}

/** Whether two shapes overlap so far that to move one by `most` along or across the strip does not part them. */
function overlap(a: LyingShape, b: LyingShape, most: number): boolean {
  if (!boxesOverlap(a.box, b.box)) return false;
  const [dx, dy] = [b.x - a.x, b.y - a.y];
  return [-most, 0, most].every((aside) => {
    const shifts = forbiddenShifts(a.slices, b.slices, dy + aside);
    const along = aside === 0 ? most : 0;
    return shifts.some((low, k) => k % 2 === 0 && dx > low + along && dx < shifts[k + 1]! - along);
  });
}
