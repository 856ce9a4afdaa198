import { segmentsOf } from '../../geometry/paths/path.ts';
import type { Segment } from '../../geometry/paths/segment.ts';
import { segmentLength } from '../../geometry/paths/segment.ts';
import type { Side } from '../../pattern/words.ts';
import type { Edge } from '../part.ts';

/** The sides of a part as they are said, in this order. On a part of a pair, left and right are outer and inner. */
const edgeSides = ['front', 'rear', 'left', 'right', 'outer', 'inner'] as const;
export type EdgeSide = (typeof edgeSides)[number];

/** A side is named where edges face it for so long (mm), or for this share of their length if they are short. */
const named = { length: 40, share: 0.15 };

/**
 * The sides of their part on which edges lie, by the way they face in the vehicle. Edges run counter-clockwise
 * round the part, in the vehicle's frame. `side`: that of the vehicle on which the part lies; null: across its middle.
 */
export function sidesOfEdges(edges: readonly Edge[], side: Side | null): EdgeSide[] {
  const lengths = new Map<EdgeSide, number>();
  let whole = 0;
  for (const segment of edges.flatMap(({ path }) => segmentsOf(path))) {
    const faced = sideFaced(segment, side);
    const length = segmentLength(segment);
    lengths.set(faced, (lengths.get(faced) ?? 0) + length);
    whole += length;
  }
  const least = Math.min(named.length, named.share * whole);
  return edgeSides.filter((one) => (lengths.get(one) ?? 0) > 0 && lengths.get(one)! >= least);
}

function sideFaced({ from, to }: Segment, side: Side | null): EdgeSide {
  // What is on the right of the way round is outside.
  const [outX, outY] = [to.y - from.y, from.x - to.x];
  if (Math.abs(outX) <= Math.abs(outY)) return outY > 0 ? 'front' : 'rear';
  const faced = outX > 0 ? 'right' : 'left';
  return side === null ? faced : faced === side ? 'outer' : 'inner';
}
