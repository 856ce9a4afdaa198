import type { Finding } from '../../base/findings.ts';
import { counted } from '../../base/wording.ts';
import { followPath } from '../../geometry/measuring/follow.ts';
import type { MeasuredPath } from '../../geometry/measuring/measured-path.ts';
import { measurePath, nearestPlace } from '../../geometry/measuring/measured-path.ts';
import { pathLength } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { distance } from '../../geometry/paths/point.ts';
import { tracedKinds, traceTolerance } from '../edges.ts';
import type { Feature } from '../feature.ts';
import { pieceNote } from '../findings.ts';
import { layerName } from '../layers.ts';
import type { Piece } from '../piece.ts';

/** What is moved by no more than this (mm) is not told: no cutter shows it. */
const untold = 0.05;

/** Something drawn beside the outline and moved onto it: where it is furthest off, and how far, mm. */
interface Snap {
  readonly feature: Feature;
  readonly at: Point;
  readonly off: number;
}

/**
 * Rule: what belongs on the outline (traces, notches, drill marks at the edge) and is drawn a little
 * beside it is moved onto it, and that is told. One note for the piece, at the place that is furthest off.
 */
export function checkSnapped(piece: Piece): Finding[] {
  const outline = measurePath(piece.outline);
  const snaps = piece.features
    .flatMap((feature) => snapOf(feature, outline))
    .filter(({ off }) => off > untold && off <= traceTolerance);
  if (snaps.length === 0) return [];
  const furthest = snaps.reduce((most, one) => (one.off > most.off ? one : most));
  const layers = [...new Set(snaps.map(({ feature }) => layerName(feature)))];
  const message = `${counted(snaps.length, 'thing')} on ${layers.join(', ')} ${snaps.length === 1 ? 'is' : 'are'} drawn up to ${furthest.off.toFixed(2)} mm beside the outline, and moved onto it.`;
  const todo = `Nothing to do, if it belongs on the outline; ${traceTolerance} mm is allowed.`;
  const spot = { line: furthest.feature.line, at: furthest.at };
  return [pieceNote(piece, { rule: 'snapped', message, todo }, spot)];
}

function snapOf(feature: Feature, outline: MeasuredPath): Snap[] {
  const { role, path } = feature;
  if (tracedKinds[role] !== undefined) {
    if (pathLength(path) <= traceTolerance) return [];
    const { at, distance: off } = followPath(outline, path, traceTolerance).furthest;
    return [{ feature, at, off }];
  }
  const isDrillMark = role === 'HOLE' && path.vertices.length === 1;
  if (role !== 'NOTCH' && !isDrillMark) return [];
  const ends = [path.vertices[0]!, path.vertices.at(-1)!].map(({ x, y }) => {
    const at = { x, y };
    return { feature, at, off: distance(at, nearestPlace(outline, at).point) };
  });
  return [ends[0]!.off <= ends[1]!.off ? ends[0]! : ends[1]!];
}
