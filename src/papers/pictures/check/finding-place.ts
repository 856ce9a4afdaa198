import type { Finding } from '../../../base/findings.ts';
import { compose, inverse, transformPoint } from '../../../geometry/paths/transform.ts';
import { distanceToPath } from '../../../geometry/measuring/nearest.ts';
import type { Point } from '../../../geometry/paths/point.ts';
import { distance } from '../../../geometry/paths/point.ts';
import { centrelineMirror, vehicleFrame } from '../../../handing/frame.ts';
import { positionsOf } from '../../../handing/sides.ts';
import { tracedKinds } from '../../../pattern/edges.ts';
import { layerName } from '../../../pattern/layers.ts';
import type { Piece } from '../../../pattern/piece.ts';
import type { Feature } from '../../../pattern/feature.ts';
import type { Hand, Side } from '../../../pattern/words.ts';
import { hands } from '../../../pattern/words.ts';

/**
 * Where a finding lies on its piece as drawn, in mm in the block's frame; null where it names no
 * place. What is found on a part has its place in the vehicle's frame: it is brought back, and mirrored
 * where the part is the mirror image of what is drawn. `drawn` is the hand that the set is drawn for.
 */
export function placeOnPiece({ where }: Finding, piece: Piece, drawn: Hand): Point | null {
  const { at, part } = where;
  if (at === undefined) return null;
  if (part === undefined) return { x: at.x, y: at.y };
  const toBlock = inverse(vehicleFrame(piece));
  const places = mirrorsOf(piece, part, drawn).map((mirrored) =>
    transformPoint(mirrored ? compose(toBlock, centrelineMirror) : toBlock, at),
  );
  return places.reduce((best, place) => (liesBetter(piece, place, best) ? place : best));
}

/** Whether a part of that name can come out as drawn, mirrored, or both: the hand is not in its name. */
function mirrorsOf({ sheet }: Piece, part: string, drawn: Hand): boolean[] {
  const side = sheet.side === 'centre' ? null : sideIn(part);
  const positions = hands.flatMap((hand) => positionsOf(sheet, drawn, hand));
  const mirrors = positions.filter((one) => one.side === side).map(({ mirrored }) => mirrored);
  return mirrors.length === 0 ? [false] : [...new Set(mirrors)];
}

function sideIn(part: string): Side | null {
  const found = /-(left|right)(-\d+)?$/.exec(part);
  return found === null ? null : (found[1] as Side);
}

/** Findings are on what is drawn: nearer to a line of it, or as near and nearer to a corner. */
function liesBetter({ outline, features }: Piece, one: Point, other: Point): boolean {
  const paths = [outline, ...features.map(({ path }) => path)];
  const corners = paths.flatMap(({ vertices }) => vertices);
  const toLine = (at: Point): number => Math.min(...paths.map((path) => distanceToPath(path, at)));
  const toCorner = (at: Point): number => Math.min(...corners.map((to) => distance(to, at)));
  const nearer = toLine(one) - toLine(other);
  return Math.abs(nearer) > 0.01 ? nearer < 0 : toCorner(one) < toCorner(other);
}

/** Something drawn that a person finds a place by. */
export interface Landmark {
  /** `edge "door"`, `a SEAM edge`, `the CUTOUT-DRIVER` where there is no other. */
  readonly words: string;
  /** mm */
  readonly distance: number;
}

/** Further off (mm) than this nothing helps to find a place. */
const reach = 100;

/**
 * What is drawn nearest to a place on a piece (block's frame), edges before what else lies as near;
 * null where nothing is near. What `said` names already is no help and is passed over.
 */
export function nearestLandmark(piece: Piece, at: Point, said = ''): Landmark | null {
  const known = said.toLowerCase();
  const [nearest] = piece.features
    .filter((feature) => !known.includes(nameOf(feature).toLowerCase()))
    .map((feature) => ({ feature, off: distanceToPath(feature.path, at) }))
    .filter(({ off }) => off <= reach)
    .sort((a, b) => Math.round(a.off) - Math.round(b.off) || rankOf(a.feature) - rankOf(b.feature));
  return nearest === undefined
    ? null
    : { words: landmarkWords(nearest.feature, piece), distance: nearest.off };
}

function nameOf({ role, name }: Feature): string {
  return name ?? role;
}

function rankOf({ role, name }: Feature): number {
  if (name !== null) return 0;
  return tracedKinds[role] === undefined ? 2 : 1;
}

function landmarkWords({ role, follows, name }: Feature, { features }: Piece): string {
  if (name !== null) return `edge "${name}"`;
  const alike = features.filter((one) => one.role === role && one.follows === follows);
  const layer = layerName({ role, follows });
  const thing = tracedKinds[role] === undefined ? layer : `${layer} edge`;
  return alike.length === 1 ? `the ${thing}` : `a ${thing}`;
}
