import { areaOf } from '../../geometry/paths/area.ts';
import { boxOfPath, segmentsOf } from '../../geometry/paths/path.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { pointAt, segmentLength } from '../../geometry/paths/segment.ts';
import { boxIndex } from '../../geometry/measuring/box-index.ts';
import type { Box } from '../../geometry/paths/box.ts';
import { boxOfPoints, growBox } from '../../geometry/paths/box.ts';
import { measurePath, nearestPlace } from '../../geometry/measuring/measured-path.ts';
import { traceTolerance } from '../edges.ts';
import type { ClosedLine } from './closed-line.ts';

/**
 * One closed line is taken for an outline or cutout, and closed lines on other layers run beside it all
 * round: the tape of a bound edge, for example.
 */
export interface Twins {
  readonly chosen: ClosedLine;
  readonly others: readonly ClosedLine[];
}

/** How often each layer has the outermost line of a piece, and no other layer a line beside it. */
export type OutlineVotes = ReadonlyMap<string, number>;

/** Closed lines that are nowhere further apart than this (mm) may both be meant for the same outline. */
const beside = 50;

/** A smaller closed line with less than this share of the area of the other is a thing of its own. */
const leastShare = 0.5;

/** Whether two closed lines run close together all round, so that either may be the outline. */
export function runBeside(a: Path, b: Path): boolean {
  const [areaA, areaB] = [areaOf(a), areaOf(b)];
  if (Math.min(areaA, areaB) < leastShare * Math.max(areaA, areaB)) return false;
  return areNear(boxOfPath(a), boxOfPath(b)) && isWithin(a, b, beside) && isWithin(b, a, beside);
}

/** Whether two closed lines are so near to each other that either traces the other. */
export function runTogether(a: Path, b: Path): boolean {
  return isWithin(a, b, traceTolerance) && isWithin(b, a, traceTolerance);
}

function areNear(a: Box, b: Box): boolean {
  return (
    Math.abs(a.minX - b.minX) <= beside &&
    Math.abs(a.minY - b.minY) <= beside &&
    Math.abs(a.maxX - b.maxX) <= beside &&
    Math.abs(a.maxY - b.maxY) <= beside
  );
}

/** Places on a path are looked at every so many mm. */
const step = 20;

function isWithin(path: Path, other: Path, reach: number): boolean {
  const measured = measurePath(other);
  return segmentsOf(path).every((segment) => {
    const count = Math.max(2, Math.ceil(segmentLength(segment) / step));
    return Array.from({ length: count }, (_, k) => pointAt(segment, k / count)).every(
      (point) => nearestPlace(measured, point).distance <= reach,
    );
  });
}

/**
 * The closed lines of a group that run beside each other on different layers. Of these, a line on OUTLINE
 * is chosen; otherwise one of the layer with the most votes; otherwise the outermost.
 */
export function twinsAmong(contours: readonly ClosedLine[], votes: OutlineVotes): Twins[] {
  return bundlesOf(contours).map((bundle): Twins => {
    const rank = (one: ClosedLine): number =>
      one.role === 'OUTLINE' ? Infinity : (votes.get(layerOf(one)) ?? 0);
    const chosen = bundle.reduce((best, one) => {
      const [a, b] = [rank(best), rank(one)];
      return b > a || (a === b && one.area > best.area) ? one : best;
    });
    const others = bundle.filter(
      (one) => one.role === 'unknown' && layerOf(one) !== layerOf(chosen),
    );
    return { chosen, others };
  });
}

/** The layers of the closed lines of a group that are outermost and have none beside them. */
export function votingLayers(
  contours: readonly ClosedLine[],
  isOutermost: (contour: ClosedLine) => boolean,
): string[] {
  const inBundle = new Set(bundlesOf(contours).flat());
  return contours
    .filter((one) => one.role === 'unknown' && !inBundle.has(one) && isOutermost(one))
    .map(layerOf);
}

function layerOf({ entity }: ClosedLine): string {
  return entity.layer.toUpperCase();
}

/** Lines that run beside each other, directly or by way of others. */
function bundlesOf(contours: readonly ClosedLine[]): ClosedLine[][] {
  const able = contours.filter(({ role }) => role === 'unknown' || role === 'OUTLINE');
  const bundleOf = new Map<ClosedLine, ClosedLine[]>();
  const layers = able.map(layerOf);
  // Lines beside each other have their lower left corners near each other.
  const corners = able.map(({ box: { minX, minY } }) => boxOfPoints([{ x: minX, y: minY }]));
  const near = new Set(layers).size < 2 ? () => [] : boxIndex(corners);
  for (const [i, a] of able.entries()) {
    for (const k of near(growBox(corners[i]!, beside))) {
      const b = able[k]!;
      if (k <= i || layers[i] === layers[k]) continue;
      if (a.role === 'OUTLINE' && b.role === 'OUTLINE') continue;
      if (!areNear(a.box, b.box) || !runBeside(a.path, b.path)) continue;
      const all = [...new Set([...(bundleOf.get(a) ?? [a]), ...(bundleOf.get(b) ?? [b])])];
      for (const one of all) bundleOf.set(one, all);
    }
  }
  return [...new Set(bundleOf.values())];
}
