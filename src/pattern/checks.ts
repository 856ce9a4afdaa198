import type { Finding } from '../findings.ts';
import { areaOf } from '../geometry/area.ts';
import { placeInPath } from '../geometry/contains.ts';
import { selfCrossings } from '../geometry/crossings.ts';
import { nearestOnPath } from '../geometry/nearest.ts';
import type { Path } from '../geometry/path.ts';
import type { Point } from '../geometry/point.ts';
import type { YamlFile } from '../yaml.ts';
import { tracedKinds, traceTolerance } from './edges.ts';
import type { Follows, Role } from './layers.ts';
import type { Feature, Piece } from './piece.ts';
import type { PieceSheet, SetSheet } from './set-file.ts';

type PieceSide = PieceSheet['side'];

/** What is wrong with a piece as drawn, whatever the order. */
export function checkPiece(piece: Piece): Finding[] {
  return [
    ...checkContour(piece, 'OUTLINE', piece.outline),
    ...piece.features
      .filter(isContour)
      .flatMap(({ role, path }) => checkContour(piece, role, path)),
    ...piece.features.flatMap((feature) => checkInside(piece, feature)),
    ...piece.features.flatMap((feature) => checkPresence(piece, feature)),
    ...checkAxis(piece),
    ...checkPad(piece),
  ];
}

function isContour({ path }: Feature): boolean {
  return path.closed && path.vertices.length > 1;
}

function error(
  piece: Piece,
  rule: string,
  message: string,
  todo: string,
  at?: Point,
  line?: number,
): Finding {
  const where = {
    ...piece.where,
    ...(line === undefined ? {} : { line }),
    ...(at === undefined ? {} : { at }),
  };
  return { severity: 'error', rule, message, todo, where };
}

function checkContour(piece: Piece, role: Role, path: Path): Finding[] {
  const crossing = selfCrossings(path)[0];
  if (crossing !== undefined) {
    return [
      error(
        piece,
        'self-crossing',
        `this ${role} crosses or touches itself.`,
        'Untangle it there.',
        crossing,
      ),
    ];
  }
  // A square millimetre: nothing that a knife can cut out.
  if (areaOf(path) >= 1) return [];
  return [
    error(piece, 'no-area', `this ${role} encloses no area.`, 'Draw it anew.', path.vertices[0]),
  ];
}

/** A feature belongs on its piece; traces are held to the outline when edges are claimed. */
function checkInside(piece: Piece, { role, path, line }: Feature): Finding[] {
  if (tracedKinds[role] !== undefined) return [];
  const outside = path.vertices.find(
    (vertex) => placeInPath(piece.outline, vertex, traceTolerance) === 'outside',
  );
  if (outside === undefined) return [];
  const { distance } = nearestOnPath(piece.outline, outside);
  const message = `this ${role} lies up to ${distance.toFixed(1)} mm outside the outline.`;
  return [
    error(
      piece,
      'feature-outside',
      message,
      'Move it onto the piece, or into the right block.',
      outside,
      line,
    ),
  ];
}

/** A feature for a side that its piece never lies on would silently never be cut. */
function checkPresence(piece: Piece, { role, follows, line }: Feature): Finding[] {
  const never: Partial<Record<PieceSide, readonly Follows[]>> = {
    left: ['RIGHT'],
    right: ['LEFT'],
    driver: ['PASSENGER'],
    passenger: ['DRIVER'],
  };
  const { side } = piece.sheet;
  if (follows === null || never[side]?.includes(follows) !== true) return [];
  const message = `a ${role}-${follows} on a "${side}" piece can never be cut.`;
  return [
    error(
      piece,
      'never-present',
      message,
      'Change its layer, or the side of the piece.',
      undefined,
      line,
    ),
  ];
}

/** What changes side on a centre piece is mirrored in the centreline, so that must be drawn. */
function checkAxis(piece: Piece): Finding[] {
  const { side, outline } = piece.sheet;
  if (side !== 'centre' || piece.axis !== null) return [];
  const follower = piece.features.find(
    ({ follows }) => follows === 'DRIVER' || follows === 'PASSENGER',
  );
  if (follower === undefined && outline === 'body') return [];
  const what =
    follower === undefined
      ? 'its outline follows the driver'
      : `its ${follower.role} follows a person`;
  const message = `${what}, and there is no AXIS line to mirror it in.`;
  return [
    error(
      piece,
      'no-axis',
      message,
      'Draw the vehicle’s centreline on layer AXIS.',
      undefined,
      follower?.line,
    ),
  ];
}

/** A heel pad needs a material, and a material needs a pad. */
function checkPad(piece: Piece): Finding[] {
  const drawn = piece.features.find(({ role }) => role === 'PAD');
  if (drawn !== undefined && piece.sheet.pad === undefined) {
    return [
      error(
        piece,
        'pad-material',
        'a heel pad is drawn, and the set names no material for it.',
        'Add "pad:" to the piece.',
        undefined,
        drawn.line,
      ),
    ];
  }
  if (drawn !== undefined || piece.sheet.pad === undefined) return [];
  return [
    error(
      piece,
      'no-pad',
      'the set names a heel pad, and none is drawn.',
      'Draw it on layer PAD or PAD-DRIVER, or remove "pad:".',
    ),
  ];
}

/** Seams name pieces that exist. */
export function checkSeams({ value, placeOf }: YamlFile<SetSheet>): Finding[] {
  return value.seams.flatMap((seam, i) =>
    seam.join.flatMap((ref, j): Finding[] => {
      const name = ref.split('/')[0]!;
      if (value.pieces[name] !== undefined) return [];
      return [
        {
          severity: 'error',
          rule: 'seam-piece',
          message: `the seam names a piece "${name}", and the set has none of that name.`,
          todo: `Pieces: ${Object.keys(value.pieces).join(', ')}.`,
          where: placeOf(['seams', i, 'join', j]),
        },
      ];
    }),
  );
}
