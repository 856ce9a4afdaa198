import type { Path, Station } from './path.ts';
import { pathLength, pathOf, segmentsOf } from './path.ts';
import type { Segment } from './segment.ts';
import { partOfSegment, segmentLength } from './segment.ts';
import { samePoint } from './tolerance.ts';

/** The length along the path from its start to a station, mm. */
export function lengthAt(path: Path, { segment, t }: Station): number {
  const lengths = segmentsOf(path).map(segmentLength);
  const before = lengths.slice(0, segment).reduce((sum, length) => sum + length, 0);
  return before + (lengths[segment] ?? 0) * t;
}

/**
 * The open path along a closed one, from one length to another (mm from its start), in its own direction.
 * If `to` <= `from` it goes across the start; so equal lengths give the whole way round.
 */
export function stretchOf(path: Path, from: number, to: number): Path {
  const whole = pathLength(path);
  const pieces =
    to > from ? cutOut(path, from, to) : [...cutOut(path, from, whole), ...cutOut(path, 0, to)];
  return pathOf(pieces, false);
}

function cutOut(path: Path, from: number, to: number): Segment[] {
  const pieces: Segment[] = [];
  let start = 0;
  for (const segment of segmentsOf(path)) {
    const length = segmentLength(segment);
    const begin = clampToEnds((from - start) / length, length);
    const end = clampToEnds((to - start) / length, length);
    if (end > begin) pieces.push(partOfSegment(segment, begin, end));
    start += length;
  }
  return pieces;
}

/**
 * The share, kept within 0 and 1. Within samePoint of an end it is that end, so that no sliver is left
 * over.
 */
function clampToEnds(share: number, length: number): number {
  const near = samePoint / length;
  if (share < near) return 0;
  return share > 1 - near ? 1 : share;
}
