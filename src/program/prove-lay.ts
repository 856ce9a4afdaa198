import Flatbush from 'flatbush';
import polygonClipping from 'polygon-clipping';
import type { Finding } from '../findings.ts';
import type { Box } from '../geometry/box.ts';
import { boxesOverlap, boxOfPath, growBox } from '../geometry/box.ts';
import { segmentCrossings } from '../geometry/crossings.ts';
import { flatten } from '../geometry/flatten.ts';
import type { Path } from '../geometry/path.ts';
import { pathLength, polyline, segmentsOf } from '../geometry/path.ts';
import type { Point } from '../geometry/point.ts';
import type { Segment } from '../geometry/segment.ts';
import { nearestOnSegment } from '../geometry/segment.ts';
import { fault } from './faults.ts';
import type { DrawnPart } from './prove-dxf.ts';
import type { LayRecord } from './run-record.ts';

/** Arcs are judged as chords this near to them, mm. */
const judgeError = 0.005;
/** Rounding, and two arcs judged as chords, may take this from a gap that is kept, mm. */
const gapSlack = 0.012;
/** Six decimals and their sums, mm. */
const rounding = 0.001;

/** A part of the drawing as the judge sees it: all its contours, and its carpet as a polygon. */
interface JudgedPart {
  readonly label: string;
  readonly line: number;
  readonly outline: Path;
  readonly box: Box;
  readonly contours: readonly Path[];
}

/**
 * Holds the contours of the drawing against roll and rules: no overlap, the gap kept, inside the
 * usable roll, clear of its start, no bite line crossed, the length as the record says it. Overlap
 * is judged by a library that the laying of parts does not use.
 */
export function proveLay(drawn: readonly DrawnPart[], lay: LayRecord, file: string): Finding[] {
  const parts = drawn.map(judged);
  return [
    ...parts.flatMap((part) => rollFaults(part, lay, file)),
    ...lengthFaults(parts, lay, file),
    ...overlapFaults(parts, file),
    ...gapFaults(parts, lay.gap, file),
  ];
}

function judged({ part, outline }: DrawnPart): JudgedPart {
  return {
    label: part.record.label,
    line: outline.line,
    outline: outline.path,
    box: boxOfPath(outline.path),
    contours: [outline.path, ...part.inner.map(({ path }) => path)].map(chords),
  };
}

function chords(path: Path): Path {
  return polyline(flatten(path, judgeError), true);
}

function mm(value: number): string {
  return `${value.toFixed(2)} mm`;
}

function rollFaults({ label, line, box }: JudgedPart, lay: LayRecord, file: string): Finding[] {
  const where = { file, line, part: label };
  const findings: Finding[] = [];
  const low = lay.selvedge;
  const high = lay.rollWidth - lay.selvedge;
  if (box.minY < low - rounding || box.maxY > high + rounding) {
    const message = `the part lies from ${mm(box.minY)} to ${mm(box.maxY)} across the roll; usable is ${mm(low)} to ${mm(high)}.`;
    findings.push(fault('off-the-roll', message, where));
  }
  const end = lay.rollLength ?? Infinity;
  if (box.minX < lay.startMargin - rounding || box.maxX > end + rounding) {
    const message = `the part lies from ${mm(box.minX)} to ${mm(box.maxX)} along the roll; usable is from ${mm(lay.startMargin)}${end === Infinity ? '' : ` to ${mm(end)}`}.`;
    findings.push(fault('off-the-roll', message, where));
  }
  const bite = lay.biteLength ?? Infinity;
  if (bite !== Infinity) {
    const first = Math.floor((box.minX + rounding) / bite);
    if (box.maxX > (first + 1) * bite + rounding) {
      const message = `the part crosses the bite line at ${mm((first + 1) * bite)}.`;
      findings.push(fault('bite-line', message, where));
    }
  }
  return findings;
}

function lengthFaults(parts: readonly JudgedPart[], lay: LayRecord, file: string): Finding[] {
  const length = Math.max(0, ...parts.map(({ box }) => box.maxX));
  if (Math.abs(length - lay.length) <= rounding) return [];
  const message = `the parts reach to ${mm(length)} along the roll; the record says ${mm(lay.length)}.`;
  return [fault('lay-length', message, { file })];
}

function overlapFaults(parts: readonly JudgedPart[], file: string): Finding[] {
  const findings: Finding[] = [];
  for (const [i, a] of parts.entries()) {
    for (const b of parts.slice(i + 1)) {
      if (!boxesOverlap(a.box, b.box)) continue;
      const area = commonArea(a, b);
      // Neighbours that touch along arcs share slivers as wide as the chords are off.
      const slivers = judgeError * Math.min(pathLength(a.outline), pathLength(b.outline));
      if (area <= 0.01 + slivers) continue;
      const message = `the part overlaps ${b.label} by ${area.toFixed(1)} mm2.`;
      findings.push(fault('overlap', message, { file, line: a.line, part: a.label }));
    }
  }
  return findings;
}

function commonArea(a: JudgedPart, b: JudgedPart): number {
  const common = polygonClipping.intersection(ringsOf(a), ringsOf(b));
  return common.reduce((sum, polygon) => sum + polygonArea(polygon), 0);
}

function ringsOf({ contours }: JudgedPart): [number, number][][] {
  return contours.map(({ vertices }) => vertices.map(({ x, y }) => [x, y]));
}

/** Of an outer ring less its holes. */
function polygonArea(rings: readonly (readonly [number, number])[][]): number {
  const [outer = 0, ...holes] = rings.map((ring) => {
    let twice = 0;
    for (const [i, [x, y]] of ring.entries()) {
      const [nextX, nextY] = ring[(i + 1) % ring.length]!;
      twice += x * nextY - nextX * y;
    }
    return Math.abs(twice) / 2;
  });
  return holes.reduce((left, hole) => left - hole, outer);
}

interface NearPair {
  readonly distance: number;
  readonly at: Point;
  readonly first: JudgedPart;
  readonly second: JudgedPart;
}

/** The true distance of contours, wherever they come nearer than the gap. */
function gapFaults(parts: readonly JudgedPart[], gap: number, file: string): Finding[] {
  return nearPairs(parts, gap)
    .filter(({ distance }) => distance < gap - gapSlack)
    .map(({ distance, at, first, second }) => {
      const message = `the part is ${distance.toFixed(2)} mm from ${second.label}; the gap is ${gap} mm.`;
      return fault('gap', message, { file, line: first.line, part: first.label, at });
    });
}

/** For each two parts that come nearer than `reach`, the nearest place. */
function nearPairs(parts: readonly JudgedPart[], reach: number): NearPair[] {
  const segments = parts.flatMap((part, owner) =>
    part.contours.flatMap((path) => segmentsOf(path).map((segment) => ({ segment, owner }))),
  );
  const pairs = new Map<string, NearPair>();
  if (segments.length === 0) return [];
  const index = indexOf(segments.map(({ segment }) => segment));
  for (const { segment, owner } of segments) {
    const { minX, minY, maxX, maxY } = growBox(
      boxOfPath(polyline([segment.from, segment.to], false)),
      reach,
    );
    for (const j of index.search(minX, minY, maxX, maxY)) {
      const other = segments[j]!;
      if (other.owner <= owner) continue;
      const key = `${owner} ${other.owner}`;
      const near = apart(segment, other.segment);
      if (near.distance >= (pairs.get(key)?.distance ?? Infinity)) continue;
      pairs.set(key, { ...near, first: parts[owner]!, second: parts[other.owner]! });
    }
  }
  return [...pairs.values()];
}

function indexOf(segments: readonly Segment[]): Flatbush {
  const index = new Flatbush(segments.length);
  for (const { from, to } of segments) {
    index.add(
      Math.min(from.x, to.x),
      Math.min(from.y, to.y),
      Math.max(from.x, to.x),
      Math.max(from.y, to.y),
    );
  }
  index.finish();
  return index;
}

/** The distance of two straight segments, and where. */
function apart(a: Segment, b: Segment): { distance: number; at: Point } {
  const [crossing] = segmentCrossings(a, b);
  if (crossing !== undefined) return { distance: 0, at: crossing };
  const candidates = [
    ...[a.from, a.to].map((at) => ({ at, distance: nearestOnSegment(b, at).distance })),
    ...[b.from, b.to].map((at) => ({ at, distance: nearestOnSegment(a, at).distance })),
  ];
  return candidates.reduce((best, one) => (one.distance < best.distance ? one : best));
}
