import type { Finding, Place } from '../../base/findings.ts';
import { areaOf } from '../../geometry/paths/area.ts';
import { selfCrossings } from '../../geometry/relations/crossings.ts';
import { pieceError } from '../findings.ts';
import type { Path } from '../../geometry/paths/path.ts';
import type { Role } from '../layers.ts';
import type { Piece } from '../piece.ts';

/** Rule: the outline and every closed line on the piece bound some area and do not cross themselves. */
export function checkContours(piece: Piece): Finding[] {
  return [
    ...checkContour(piece, 'OUTLINE', piece.outline, piece.where),
    ...piece.features
      .filter(({ path }) => path.closed)
      .flatMap(({ role, path, line }) => checkContour(piece, role, path, { line })),
  ];
}

function checkContour(piece: Piece, role: Role, path: Path, place: Place): Finding[] {
  const crossing = selfCrossings(path)[0];
  if (crossing !== undefined) {
    const message = `this ${role} crosses or touches itself.`;
    const wording = { rule: 'self-crossing', message, todo: 'Untangle it there.' };
    return [pieceError(piece, wording, { ...place, at: crossing })];
  }
  // A square millimetre is less than any knife can cut out.
  if (areaOf(path) >= 1) return [];
  const message = `this ${role} encloses no area.`;
  const wording = { rule: 'no-area', message, todo: 'Draw it anew.' };
  return [pieceError(piece, wording, { ...place, at: path.vertices[0]! })];
}
