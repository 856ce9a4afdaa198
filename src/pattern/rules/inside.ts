import type { Finding } from '../../base/findings.ts';
import { furthestOutside } from '../../geometry/relations/excursion.ts';
import type { MeasuredPath } from '../../geometry/measuring/measured-path.ts';
import { measurePath } from '../../geometry/measuring/measured-path.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { reflectionIn, transformPath } from '../../geometry/paths/transform.ts';
import { tracedKinds, traceTolerance } from '../edges.ts';
import { pieceError } from '../findings.ts';
import { followsPerson, layerName } from '../layers.ts';
import type { Piece } from '../piece.ts';
import type { Feature } from '../feature.ts';
import type { Hand } from '../words.ts';
import { otherHand } from '../words.ts';
import { checkNotch } from './notches.ts';

/**
 * Rule: every feature lies on its piece, all along its line, and every notch is one (see checkNotch).
 * This holds for the hand that is `drawn` and for the other. A mark may touch the outline. Traces are
 * checked when edges are claimed, not here.
 */
export function checkInside(piece: Piece, drawn: Hand): Finding[] {
  const outline = measurePath(piece.outline);
  const placed = piece.features.filter(({ role }) => tracedKinds[role] === undefined);
  return placed.flatMap((feature) => {
    const asDrawn = checkPlace(piece, outline, feature, '');
    if (asDrawn.length > 0 || !changesSide(piece, feature)) return asDrawn;
    const image = { ...feature, path: mirrored(feature.path, piece) };
    return checkPlace(piece, outline, image, `, put in ${otherHand(drawn)},`);
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
  const wrong = role === 'NOTCH' ? checkNotch(piece, outline, feature, name) : [];
  if (wrong.length > 0) return wrong;
  const outside = furthestOutside(outline, path, traceTolerance);
  if (outside === null) return [];
  const message = `${name} lies up to ${outside.distance.toFixed(1)} mm outside the outline.`;
  const todo =
    role === 'NOTCH'
      ? 'Draw it from the outline inwards, or as a point on the outline: a slit runs in from the edge.'
      : 'Move it onto the piece, or into the right block.';
  return [pieceError(piece, { rule: 'feature-outside', message, todo }, { line, at: outside.at })];
}
