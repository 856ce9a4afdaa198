import type { Finding } from '../../base/findings.ts';
import { furthestOutside } from '../../geometry/relations/excursion.ts';
import type { MeasuredPath } from '../../geometry/measuring/measured-path.ts';
import { measurePath, nearestPlace } from '../../geometry/measuring/measured-path.ts';
import type { Path } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { reflectionIn, transformPath } from '../../geometry/paths/transform.ts';
import { tracedKinds, traceTolerance } from '../edges.ts';
import { pieceError } from '../findings.ts';
import { followsPerson, layerName } from '../layers.ts';
import type { Piece } from '../piece.ts';
import type { Feature } from '../feature.ts';

/**
 * Rule: every feature lies on its piece, all along its line, and every notch begins on the outline. This
 * holds for the hand that is drawn and for the other. A mark may touch the outline. Traces are checked
 * when edges are claimed, not here.
 */
export function checkInside(piece: Piece): Finding[] {
  const outline = measurePath(piece.outline);
  const placed = piece.features.filter(({ role }) => tracedKinds[role] === undefined);
  return placed.flatMap((feature) => {
    const asDrawn = checkPlace(piece, outline, feature, '');
    if (asDrawn.length > 0 || !changesSide(piece, feature)) return asDrawn;
    const image = { ...feature, path: mirrored(feature.path, piece) };
    return checkPlace(piece, outline, image, ', put in the other hand,');
  });
}

/**
 * Whether the feature lies elsewhere relative to its outline for the other hand. That only happens on
 * centre pieces.
 */
function changesSide({ entry, axis }: Piece, feature: Feature): boolean {
  if (entry.side !== 'centre' || axis === null || feature.follows === null) return false;
  return followsPerson(feature) === (entry.outline === 'body');
}

function mirrored(path: Path, { axis }: Piece): Path {
  return transformPath(reflectionIn(axis!), path);
}

function checkPlace(
  piece: Piece,
  outline: MeasuredPath,
  feature: Feature,
  inHand: string,
): Finding[] {
  const { role, path, line } = feature;
  const name = `this ${layerName(feature)}${inHand}`;
  const off = role === 'NOTCH' ? offOutline(outline, path) : null;
  if (off !== null) {
    const message = `${name} begins ${off.distance.toFixed(1)} mm from the outline (${traceTolerance} mm allowed).`;
    const todo = 'Snap the notch, or the outer end of its line, to the outline.';
    return [pieceError(piece, { rule: 'notch-off-outline', message, todo }, { line, at: off.at })];
  }
  const outside = furthestOutside(outline, path, traceTolerance);
  if (outside === null) return [];
  const message = `${name} lies up to ${outside.distance.toFixed(1)} mm outside the outline.`;
  const todo = 'Move it onto the piece, or into the right block.';
  return [pieceError(piece, { rule: 'feature-outside', message, todo }, { line, at: outside.at })];
}

/** The end of a notch that is nearer to the outline, if even that is not on it; otherwise null. */
function offOutline(outline: MeasuredPath, path: Path): { at: Point; distance: number } | null {
  const ends = [path.vertices[0]!, path.vertices.at(-1)!].map((at) => ({
    at,
    distance: nearestPlace(outline, at).distance,
  }));
  const outer = ends[0]!.distance <= ends[1]!.distance ? ends[0]! : ends[1]!;
  return outer.distance <= traceTolerance ? null : outer;
}
