import type { Finding } from '../../../base/findings.ts';
import { distanceToPath } from '../../../geometry/measuring/nearest.ts';
import type { Point } from '../../../geometry/paths/point.ts';
import { distance } from '../../../geometry/paths/point.ts';
import { placeInDrawing } from '../../../handing/drawn-place.ts';
import { positionsOf } from '../../../handing/sides.ts';
import { tracedKinds } from '../../../pattern/edges.ts';
import { layerName } from '../../../pattern/layers.ts';
import type { Piece } from '../../../pattern/piece.ts';
import type { Feature } from '../../../pattern/feature.ts';
import type { Hand, Side } from '../../../pattern/words.ts';
import { hands } from '../../../pattern/words.ts';

/**
 * The place of a finding on its piece as drawn, in mm in the frame of the block; null if it names none. A
 * finding on a part has its place in the frame of the vehicle: it is converted, and mirrored if the part
 * is the mirror image of what is drawn. `drawn`: the hand for which the set is drawn.
 */
export function placeOnPiece({ where }: Finding, piece: Piece, drawn: Hand): Point | null {
  const { at, part, hand } = where;
  if (at === undefined) return null;
  if (part === undefined) return { x: at.x, y: at.y };
  const places = mirrorsOf(piece, part, drawn, hand).map((mirrored) =>
    placeInDrawing(piece, mirrored, at),
  );
  return places.reduce((best, place) => (liesBetter(piece, place, best) ? place : best));
}

/**
 * The ways in which a part of that name can lie: as drawn (false), mirrored (true), or both, if nothing
 * tells the hand.
 */
function mirrorsOf({ entry }: Piece, part: string, drawn: Hand, hand: Hand | undefined): boolean[] {
  const side = entry.side === 'centre' ? null : sideIn(part);
  const positions = (hand === undefined ? hands : [hand]).flatMap((one) =>
    positionsOf(entry, drawn, one),
  );
  const mirrors = positions.filter((one) => one.side === side).map(({ mirrored }) => mirrored);
  return mirrors.length === 0 ? [false] : [...new Set(mirrors)];
}

function sideIn(part: string): Side | null {
  const found = /-(left|right)(-\d+)?$/.exec(part);
  return found === null ? null : (found[1] as Side);
}

/**
 * Whether the first point is more likely the place of a finding: nearer to a line of the piece, or as
 * near and nearer to a corner.
 */
function liesBetter({ outline, features }: Piece, one: Point, other: Point): boolean {
  const paths = [outline, ...features.map(({ path }) => path)];
  const corners = paths.flatMap(({ vertices }) => vertices);
  const toLine = (at: Point): number => Math.min(...paths.map((path) => distanceToPath(path, at)));
  const toCorner = (at: Point): number => Math.min(...corners.map((to) => distance(to, at)));
  const nearer = toLine(one) - toLine(other);
  return Math.abs(nearer) > 0.01 ? nearer < 0 : toCorner(one) < toCorner(other);
}

/** Something drawn by which a person can find a place. */
export interface Landmark {
  /** `edge "door"`, `a SEAM edge`, or `the CUTOUT-DRIVER` if there is only one. */
  readonly words: string;
  /** Distance from the place, mm. */
  readonly distance: number;
}

/** What is further away than this (mm) does not help to find a place. */
const reach = 100;

/**
 * What is drawn nearest to a place on a piece (in the frame of the block). Edges come before other things
 * that are as near. null: nothing is near. What `said` already names is passed over.
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

function landmarkWords(feature: Feature, { features }: Piece): string {
  const { role, follows, name } = feature;
  const isEdge = tracedKinds[role] !== undefined;
  if (name !== null) return `${isEdge ? 'edge' : 'mark'} "${name}"`;
  const alike = features.filter((one) => one.role === role && one.follows === follows);
  const layer = layerName(feature);
  const thing = isEdge ? `${layer} edge` : layer;
  return alike.length === 1 ? `the ${thing}` : `a ${thing}`;
}
