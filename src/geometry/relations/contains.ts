import { orient2d } from 'robust-predicates';
import type { Path } from '../paths/path.ts';
import { segmentsOf } from '../paths/path.ts';
import type { Point } from '../paths/point.ts';
import type { Segment } from '../paths/segment.ts';
import { arcOf, boxOfSegment, partOfSegment } from '../paths/segment.ts';
import { nearestOnPath } from '../measuring/nearest.ts';
import { samePoint } from '../paths/tolerance.ts';

/**
 * Whether a point lies inside a closed path, outside it, or on it (within `tolerance` mm). A ray from p
 * towards +x crosses the path an odd number of times if p lies inside.
 */
export function placeInPath(
  path: Path,
  p: Point,
  tolerance = samePoint,
): 'inside' | 'on' | 'outside' {
  if (nearestOnPath(path, p).distance <= tolerance) return 'on';
  let crossings = 0;
  for (const segment of segmentsOf(path)) {
    for (const piece of upright(segment)) if (crossesRay(piece, p)) crossings++;
  }
  return crossings % 2 === 1 ? 'inside' : 'outside';
}

/**
 * The segment in pieces that only rise or only fall: an arc is divided at its highest and lowest points.
 */
export function upright(segment: Segment): Segment[] {
  if (segment.bulge === 0) return [segment];
  const { from, to } = segment;
  const { minY, maxY } = boxOfSegment(segment);
  if (minY === Math.min(from.y, to.y) && maxY === Math.max(from.y, to.y)) return [segment];
  const { start, sweep } = arcOf(segment);
  const quarter = Math.PI / 2;
  const shares = [0, 1];
  for (let k = -3; k <= 3; k += 2) {
    for (const turn of [-2 * Math.PI, 0, 2 * Math.PI]) {
      const t = (k * quarter + turn - start) / sweep;
      if (t > 0 && t < 1) shares.push(t);
    }
  }
  const sorted = [...new Set(shares)].sort((a, b) => a - b);
  return sorted.slice(1).map((t, i) => partOfSegment(segment, sorted[i]!, t));
}

/**
 * Whether a ray from p towards +x crosses a piece that only rises or only falls. Of the piece's two ends
 * only the lower one counts as crossed, so that a vertex shared by two pieces counts once.
 */
export function crossesRay({ from, to, bulge }: Segment, p: Point): boolean {
  if (from.y > p.y === to.y > p.y) return false;
  const rising = to.y > from.y;
  // Positive if p is to the left of the directed chord. The library's y points down and ours up, so its
  // sign is turned.
  const side = -orient2d(from.x, from.y, to.x, to.y, p.x, p.y);
  const leftOfChord = rising ? side > 0 : side < 0;
  if (bulge === 0) return leftOfChord;
  const { centre, radius } = arcOf({ from, to, bulge });
  const inCircle = Math.hypot(p.x - centre.x, p.y - centre.y) < radius;
  const arcRightOfChord = rising === bulge > 0;
  return arcRightOfChord ? leftOfChord || inCircle : leftOfChord && !inCircle;
}
