import polygonClipping from 'polygon-clipping';
import type { Box } from '../../../src/geometry/paths/box.ts';
import type { Instance, Kind } from '../../../src/lay/engine/instance.ts';
import type { Nest } from '../../../src/lay/engine/nest.ts';
import type { Ring } from '../../../src/lay/engine/polygon.ts';
import { judged } from './polygons.ts';

/** A layout's length and placements, as `nest` gives them. */
type Laid = Pick<Nest, 'length' | 'placements'>;

/** Items where they lie: rings as polygon-clipping takes them. */
type Item = ReturnType<typeof judged>;

/** Counter-clockwise about the origin, with no code of the engine's. */
export function turnedBy(ring: Ring, deg: number): number[] {
  const [cos, sin] = [Math.cos((deg * Math.PI) / 180), Math.sin((deg * Math.PI) / 180)];
  return ring.flatMap((_, i) => {
    if (i % 2 === 1) return [];
    const [x, y] = [ring[i]!, ring[i + 1]!];
    return [x * cos - y * sin, x * sin + y * cos];
  });
}

function boxAround(points: readonly (readonly [number, number])[]): Box {
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  return {
    minX: Math.min(...xs),
    minY: Math.min(...ys),
    maxX: Math.max(...xs),
    maxY: Math.max(...ys),
  };
}

export function itemAt(
  { outline, holes = [] }: Pick<Kind, 'outline' | 'holes'>,
  rotation: number,
  x: number,
  y: number,
): Item {
  return judged(
    [outline, ...holes].map((ring) => turnedBy(ring, rotation)),
    x,
    y,
  );
}

/**
 * The deepest mean depth of what two items have in common: twice the area over the circumference. Where
 * convex shapes overlap by a depth of s, what they share lies in a strip of that width, so that its
 * area is at most s times half its circumference.
 */
export function depthOf(a: Item, b: Item): number {
  const [one, other] = [boxAround(a[0]!), boxAround(b[0]!)];
  if (one.minX >= other.maxX || one.maxX <= other.minX) return 0;
  if (one.minY >= other.maxY || one.maxY <= other.minY) return 0;
  return Math.max(0, ...commonOf(a, b).map(meanDepth));
}

/** The library fails at times on sides that are all but upright: then it is asked with both items turned. */
function commonOf(a: Item, b: Item): Item[] {
  for (const deg of [0, 33, 71]) {
    const [one, other] = [a, b].map((item) =>
      deg === 0 ? item : judged(item.map((ring) => turnedBy(ring.flat(), deg))),
    ) as [Item, Item];
    try {
      return polygonClipping.intersection(one, other);
    } catch (error) {
      if (deg === 71) throw error;
    }
  }
  return [];
}

function meanDepth(rings: readonly [number, number][][]): number {
  let area = 0;
  let around = 0;
  for (const ring of rings) {
    // From its own corner: far from the origin little would be left of a small area.
    const [ox, oy] = ring[0]!;
    for (const [i, [x, y]] of ring.entries()) {
      const [nx, ny] = ring[(i + 1) % ring.length]!;
      area += ((x - ox) * (ny - oy) - (nx - ox) * (y - oy)) / 2;
      around += Math.hypot(nx - x, ny - y);
    }
  }
  return around === 0 ? 0 : (2 * Math.abs(area)) / around;
}

/**
 * How deep an overlap is no fault. A pair of convex pieces may overlap by the slack, and one of either
 * shape may do so beside the next: twice that. Outlines far from their origin are known to some bits of
 * their coordinates, before and after they are turned; the judge's own grid is a millionth, for
 * each of the two and once more where it turns them.
 */
export function tolerated({ width, slack = 1e-8 * width, kinds, fixed = [] }: Instance): number {
  const far = [...kinds, ...fixed].flatMap(({ outline }) => outline.map(Math.abs));
  const bits = Number.EPSILON * Math.max(...far, width);
  return 2 * slack + 16 * bits + 4e-6;
}

/** What other code than the engine finds wrong with a layout. */
export function faults(instance: Instance, { length, placements }: Laid): string[] {
  const { width, kinds, fixed = [], pinned = [] } = instance;
  const tolerance = tolerated(instance);
  const found: string[] = [];
  for (const [kind, { demand, rotations }] of kinds.entries()) {
    const own = placements.filter((one) => one.kind === kind);
    if (own.length !== demand) found.push(`${own.length} of ${demand}`);
    if (own.some(({ rotation }) => !rotations.includes(rotation))) found.push('rotation');
  }
  const items = placements.map(({ kind, rotation, x, y }) => itemAt(kinds[kind]!, rotation, x, y));
  for (const [i, { kind, rotation, x, y }] of placements.entries()) {
    const kept = kinds[kind]!.kept?.[kinds[kind]!.rotations.indexOf(rotation)];
    const box = kept === undefined ? boxAround(items[i]!.flat()) : moved(kept, x, y);
    if (box.minX < -tolerance || box.maxX > length + tolerance) found.push('out along the strip');
    if (box.minY < -tolerance || box.maxY > width + tolerance) found.push('out across the strip');
  }
  const standing = [
    ...fixed.map((one) => itemAt(one, 0, 0, 0)),
    ...pinned.flatMap((one) => one.places.map(({ rotation, x, y }) => itemAt(one, rotation, x, y))),
  ];
  for (const [i, a] of items.entries()) {
    for (const b of [...items.slice(i + 1), ...standing]) {
      const depth = depthOf(a, b);
      if (depth > tolerance) found.push(`item ${i} overlaps by ${depth}`);
    }
  }
  return found;
}

function moved({ minX, minY, maxX, maxY }: Box, x: number, y: number): Box {
  return { minX: minX + x, minY: minY + y, maxX: maxX + x, maxY: maxY + y };
}
