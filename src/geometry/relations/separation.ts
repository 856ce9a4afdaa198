import type { Box } from '../paths/box.ts';
import { segmentCrossings } from './crossings.ts';
import type { Path } from '../paths/path.ts';
import { segmentsOf } from '../paths/path.ts';
import type { Point } from '../paths/point.ts';
import { minus, plus, times, unit } from '../paths/point.ts';
import type { Segment } from '../paths/segment.ts';
import { arcOf, boxOfSegment, nearestOnSegment } from '../paths/segment.ts';

/**
 * The least distance between two paths as curves, in mm, exact for arcs; 0 if they meet. A path that lies
 * inside a closed one keeps its distance from that contour. Infinity: they stay `within` mm or more
 * apart.
 */
export function pathSeparation(a: Path, b: Path, within = Infinity): number {
  const first = segmentsOf(a).map(boxed);
  const second = segmentsOf(b).map(boxed);
  let least = within;
  for (const one of first) {
    for (const other of second) {
      if (boxSeparation(one.box, other.box) >= least) continue;
      least = Math.min(least, segmentSeparation(one.segment, other.segment));
    }
  }
  return least < within ? least : Infinity;
}

/** A segment with its box. */
export function boxed(segment: Segment): { segment: Segment; box: Box } {
  return { segment, box: boxOfSegment(segment) };
}

/** The distance between two boxes, mm; 0 if they touch or overlap. */
export function boxSeparation(a: Box, b: Box): number {
  const x = Math.max(0, b.minX - a.maxX, a.minX - b.maxX);
  const y = Math.max(0, b.minY - a.maxY, a.minY - b.maxY);
  return Math.hypot(x, y);
}

/** The least distance between two segments, mm; 0 if they meet. */
export function segmentSeparation(a: Segment, b: Segment): number {
  if (segmentCrossings(a, b).length > 0) return 0;
  const toB = nearCandidates(a, b).map((p) => nearestOnSegment(b, p).distance);
  const toA = nearCandidates(b, a).map((p) => nearestOnSegment(a, p).distance);
  return Math.min(...toB, ...toA);
}

/**
 * Points of a that may be the nearest to b: its ends, and the point of an arc where a line at right
 * angles to both segments meets it. Such a line passes through the centre of every arc that it meets.
 */
function nearCandidates(a: Segment, b: Segment): Point[] {
  if (a.bulge === 0) return [a.from, a.to];
  const { centre, radius } = arcOf(a);
  const target = b.bulge === 0 ? nearestOnSegment(b, centre).point : arcOf(b).centre;
  const towards = unit(minus(target, centre));
  const facing = plus(centre, times(towards, radius));
  return [a.from, a.to, nearestOnSegment(a, facing).point];
}
