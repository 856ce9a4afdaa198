import type { Entity } from '../../drawing/drawing.ts';
import { pathEntity, textEntity } from '../../drawing/entity-of.ts';
import { boxOfPath, middleOfPath, polyline } from '../../geometry/paths/path.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { transformPoint } from '../../geometry/paths/transform.ts';
import type { Conditions } from '../../pattern/conditions.ts';
import { areContrary, bothConditions } from '../../pattern/conditions.ts';
import type { LayerMeaning, Role } from '../../pattern/layers.ts';
import { layerName } from '../../pattern/layers.ts';
import type { Piece } from '../../pattern/piece.ts';
import type { DrawnLine, Feature } from '../../pattern/feature.ts';
import type { Hand } from '../../pattern/words.ts';
import { inVehicle, leaderOf } from '../features.ts';
import { centrelineMirror, vehicleFrame } from '../frame.ts';
import { isMirrored, positionsOf } from '../sides.ts';
import type { PiecePosition } from '../sides.ts';

/** Height of the texts that name edges and marks, mm. */
const nameHeight = 12;

/**
 * A piece drawn anew for a hand: the entities of its block in the frame of the vehicle, on layers with
 * suffixes. Reading that set gives the same parts. A piece that was drawn half is drawn whole. What goes
 * with options is drawn too, for whichever: `under` are those by which the piece was read, and without
 * which none of it is there.
 */
export function redrawnPiece(
  piece: Piece,
  drawn: Hand,
  hand: Hand,
  under: Conditions = [],
): Entity[] {
  const position = drawnPosition(piece, drawn, hand);
  const place = (path: Path, mirrored: boolean): Path => inVehicle(path, piece, mirrored);
  const outline = place(piece.outline, position.mirrored);
  const all = allDrawn(piece);
  const outlines = all.features.filter(({ role }) => role === 'OUTLINE');
  const features = all.features.filter(({ role }) => !['OUTLINE', 'PILE', 'AXIS'].includes(role));
  const underAll = <T extends Pick<LayerMeaning, 'when'>>(things: readonly T[]): T[] =>
    things
      .map((one) => ({ ...one, when: bothConditions(one.when, under) }))
      .filter(({ when }) => !areContrary(when));
  const there = underAll(features);
  return [
    ...underAll(outlines).map((one) =>
      pathEntity(layerName(one), place(one.path, position.mirrored)),
    ),
    ...there.flatMap((feature) => {
      const { follows } = leaderOf(feature, there);
      const mirrored = isMirrored(follows, position, drawn, hand);
      return featureEntities(feature, place(feature.path, mirrored));
    }),
    ...(piece.pile === null
      ? []
      : [lineEntity('PILE', pileLine(piece.pile, piece, position), under)]),
    ...(piece.axis === null ? [] : [lineEntity('AXIS', centreline(outline), under)]),
    ...underAll(all.notes).flatMap(({ note, when }) =>
      noteEntities(note, layerName({ role: 'NOTE', follows: null, when }), piece, position),
    ),
  ];
}

/** All that is drawn on a piece, its outline too. */
function allDrawn({ forAll, outline, features, notes }: Piece): NonNullable<Piece['forAll']> {
  if (forAll !== null) return forAll;
  const contour: Feature = {
    role: 'OUTLINE',
    follows: null,
    when: [],
    name: null,
    path: outline,
    line: 0,
  };
  return { features: [contour, ...features], notes: notes.map((note) => ({ note, when: [] })) };
}

/** The position that the block of a piece shows: the drawn half of a pair, or else the only one. */
function drawnPosition({ entry }: Piece, drawn: Hand, hand: Hand): PiecePosition {
  const positions = positionsOf({ ...entry, only: undefined }, drawn, hand);
  return positions.find(({ side }) => entry.side !== 'pair' || side === entry.drawnSide)!;
}

function lineEntity(role: Role, { from, to }: DrawnLine, when: Conditions): Entity {
  return pathEntity(layerName({ role, follows: null, when }), polyline([from, to], false));
}

/** The feature, and beside it the text with its name if it has one. */
function featureEntities(feature: Feature, path: Path): Entity[] {
  const { name } = feature;
  const layer = layerName(feature);
  const drawn = pathEntity(layer, path);
  if (name === null) return [drawn];
  const at = path.vertices.length === 1 ? path.vertices[0]! : middleOfPath(path);
  return [drawn, textEntity(layer, name, at, nameHeight)];
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
function noteEntities(
  note: Entity,
  layer: string,
  piece: Piece,
  { mirrored }: PiecePosition,
): Entity[] {
  if (note.kind === 'path') return [pathEntity(layer, inVehicle(note.path, piece, mirrored))];
  const placed = transformPoint(vehicleFrame(piece), note.at);
  const at = mirrored ? transformPoint(centrelineMirror, placed) : placed;
  return [{ ...note, layer, at, ...(note.kind === 'text' ? { deg: 0 } : {}) }];
}
