import type { Entity } from '../../drawing/drawing.ts';
import { pathEntity, textEntity } from '../../drawing/entity-of.ts';
import { boxOfPath, middleOfPath, polyline } from '../../geometry/paths/path.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { transformPoint } from '../../geometry/paths/transform.ts';
import type { Role } from '../../pattern/layers.ts';
import { layerName } from '../../pattern/layers.ts';
import type { Piece } from '../../pattern/piece.ts';
import type { DrawnLine, Feature } from '../../pattern/feature.ts';
import type { Hand } from '../../pattern/words.ts';
import { inVehicle } from '../features.ts';
import { centrelineMirror, vehicleFrame } from '../frame.ts';
import { isMirrored, positionsOf } from '../sides.ts';
import type { PiecePosition } from '../sides.ts';

/** Height of the texts that name edges, mm. */
const nameHeight = 12;

/**
 * A piece drawn anew for a hand: the entities of its block in the frame of the vehicle, on layers with
 * suffixes. Reading that set gives the same parts. A piece that was drawn half is drawn whole.
 */
export function redrawnPiece(piece: Piece, drawn: Hand, hand: Hand): Entity[] {
  const position = drawnPosition(piece, drawn, hand);
  const place = (path: Path, mirrored: boolean): Path => inVehicle(path, piece, mirrored);
  const outline = place(piece.outline, position.mirrored);
  return [
    pathEntity('OUTLINE', outline),
    ...piece.features.flatMap((feature) => {
      const mirrored = isMirrored(feature.follows, position, drawn, hand);
      return featureEntities(feature, place(feature.path, mirrored));
    }),
    ...(piece.pile === null ? [] : [lineEntity('PILE', pileLine(piece.pile, piece, position))]),
    ...(piece.axis === null ? [] : [lineEntity('AXIS', centreline(outline))]),
    ...piece.notes.flatMap((note) => noteEntities(note, piece, position)),
  ];
}

/** The position that the block of a piece shows: the drawn half of a pair, or else the only one. */
function drawnPosition({ entry }: Piece, drawn: Hand, hand: Hand): PiecePosition {
  const positions = positionsOf({ ...entry, only: undefined }, drawn, hand);
  return positions.find(({ side }) => entry.side !== 'pair' || side === entry.drawnSide)!;
}

function lineEntity(role: Role, { from, to }: DrawnLine): Entity {
  return pathEntity(role, polyline([from, to], false));
}

/** The feature, and beside it the text with its name if it has one. */
function featureEntities({ role, follows, name }: Feature, path: Path): Entity[] {
  const layer = layerName({ role, follows });
  const drawn = pathEntity(layer, path);
  if (name === null) return [drawn];
  return [drawn, textEntity(layer, name, middleOfPath(path), nameHeight)];
}

/**
 * The PILE line. It is moved with its piece to the other side, but its direction stays: the pile leans as
 * it did.
 */
function pileLine(pile: DrawnLine, piece: Piece, { mirrored }: PiecePosition): DrawnLine {
  const frame = vehicleFrame(piece);
  const from = transformPoint(frame, pile.from);
  const to = transformPoint(frame, pile.to);
  // Mirrored in x = 0, then run the other way across: the direction is the same, and doing it twice gives
  // back exactly the first line.
  return mirrored ? { from: { x: -to.x, y: from.y }, to: { x: -from.x, y: to.y } } : { from, to };
}

function centreline(outline: Path): DrawnLine {
  const { minY, maxY } = boxOfPath(outline);
  return { from: { x: 0, y: minY }, to: { x: 0, y: maxY } };
}

/**
 * The notes of a piece. Lines move with it; texts stay at the same place on it, upright and never
 * mirrored.
 */
function noteEntities(note: Entity, piece: Piece, { mirrored }: PiecePosition): Entity[] {
  if (note.kind === 'path') return [pathEntity('NOTE', inVehicle(note.path, piece, mirrored))];
  const placed = transformPoint(vehicleFrame(piece), note.at);
  const at = mirrored ? transformPoint(centrelineMirror, placed) : placed;
  return [{ ...note, layer: 'NOTE', at, ...(note.kind === 'text' ? { deg: 0 } : {}) }];
}
