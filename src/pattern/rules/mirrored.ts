import type { Finding } from '../../base/findings.ts';
import { headingDeg, turnDeg } from '../../geometry/paths/angle.ts';
import { boxOfPath } from '../../geometry/paths/path.ts';
import { flatten } from '../../geometry/paths/flatten.ts';
import { distanceToPath } from '../../geometry/measuring/nearest.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { minus } from '../../geometry/paths/point.ts';
import { chordError } from '../../geometry/paths/tolerance.ts';
import type { Transform } from '../../geometry/paths/transform.ts';
import {
  compose,
  reflection,
  reflectionIn,
  transformPath,
  translation,
} from '../../geometry/paths/transform.ts';
import { tracedKinds } from '../edges.ts';
import { pieceError } from '../findings.ts';
import { layerName } from '../layers.ts';
import type { Piece } from '../piece.ts';
import type { DrawnLine, Feature } from '../feature.ts';
import { pileTolerance } from '../pile.ts';

/** How far the two halves of a pair may differ from each other's mirror image, mm. */
const tolerance = 0.1;

/** Something drawn on a piece, its outline included. */
type DrawnFeature = Pick<Feature, 'role' | 'follows' | 'path' | 'line'>;

/**
 * The place of a line that is furthest from the lines on which it should lie, mm. Infinity: there are no
 * such lines.
 */
interface FurthestOff {
  readonly at: Point;
  readonly distance: number;
}

interface Miss extends FurthestOff {
  readonly drawn: DrawnFeature;
}

/**
 * Rule: if the other half of a pair is drawn too, it must be the mirror image of the piece. Outline and
 * features are compared, each with all lines of the same layer. The mirror is the piece's AXIS, or an
 * upright line if it has none; the image is then moved to where it fits best. A layer with a suffix may
 * be drawn on one half only. Places of findings are in the frame of the other half's block.
 */
export function checkMirrored(piece: Piece, other: Piece): Finding[] {
  const images = imagesOf(piece, mirrorOnto(piece, other));
  const theirs = drawnOn(other);
  // What happens to the edges may be said on the half alone that parts are made from.
  const isSaid = theirs.some(({ role }) => tracedKinds[role] !== undefined);
  const held = (all: readonly DrawnFeature[]): readonly DrawnFeature[] =>
    isSaid ? all : all.filter(({ role }) => tracedKinds[role] === undefined);
  const layers = [...new Set([...held(images), ...theirs].map(sideLayer))];
  const misses = layers.flatMap((layer) => {
    const ours = missesOn(layer, images, theirs);
    const back = missesOn(layer, theirs, images);
    // What has moved differs on both halves. It is reported once, for the half on which it differs more.
    return worst(back) > worst(ours) + tolerance ? back : ours;
  });
  return [
    ...misses.map((miss) => notMirrored(other, miss)),
    ...onOtherAlone(piece, other),
    ...checkPiles(piece, other),
  ];
}

/**
 * Rule: what has a suffix is drawn on the half that parts are made from. On the other half alone it would
 * silently never be cut.
 */
function onOtherAlone(piece: Piece, other: Piece): Finding[] {
  const ours = new Set(piece.features.map(sideLayer));
  return other.features
    .filter((one) => one.follows !== null && !ours.has(sideLayer(one)))
    .map((one) => {
      const message = `this ${sideLayer(one)} is drawn on the other half of "${other.name}" alone, and parts are made from the first: it would never be cut.`;
      const todo =
        'Draw its mirror image, on the same layer, in the block of the piece; or let the two blocks change places as "block:" and "other:", and "drawnSide:" with them.';
      const wording = { rule: 'other-half-alone', message, todo };
      return pieceError(other, wording, { line: one.line, at: one.path.vertices[0]! });
    });
}

/** The layer without options: those of both halves are held against each other as they are there. */
function sideLayer({ role, follows }: DrawnFeature): string {
  return layerName({ role, follows, when: [] });
}

function drawnOn({ outline, features, where }: Piece): DrawnFeature[] {
  return [{ role: 'OUTLINE', follows: null, path: outline, line: where.line ?? 1 }, ...features];
}

/**
 * The mirror, and a shift. Each of four shifts lays one corner of the image's box on the same corner of
 * the other outline's box; the one after which most lines fit is taken.
 */
function mirrorOnto(piece: Piece, other: Piece): Transform {
  const { axis } = piece;
  const mirror = axis === null ? reflection({ x: 0, y: 0 }, 90) : reflectionIn(axis);
  const from = boxOfPath(transformPath(mirror, piece.outline));
  const to = boxOfPath(other.outline);
  // If one side of an outline is wrong, the corners on the other side still fit.
  const ways = (['minX', 'maxX'] as const).flatMap((x) =>
    (['minY', 'maxY'] as const).map((y) =>
      compose(translation({ x: to[x] - from[x], y: to[y] - from[y] }), mirror),
    ),
  );
  const theirs = drawnOn(other);
  const misfits = ways.map(
    (way) => imagesOf(piece, way).flatMap((image) => strays(image, theirs)).length,
  );
  return ways[misfits.indexOf(Math.min(...misfits))]!;
}

function imagesOf(piece: Piece, way: Transform): DrawnFeature[] {
  return drawnOn(piece).map((drawn) => ({ ...drawn, path: transformPath(way, drawn.path) }));
}

/**
 * The lines of a layer that do not lie on lines of the other half, each with the place where it is
 * furthest off.
 */
function missesOn(
  layer: string,
  drawn: readonly DrawnFeature[],
  others: readonly DrawnFeature[],
): Miss[] {
  return drawn
    .filter((one) => sideLayer(one) === layer)
    .flatMap((one) => {
      const [first, ...more] = strays(one, others);
      if (first === undefined) return [];
      const off = more.reduce((most, next) => (next.distance > most.distance ? next : most), first);
      return [{ ...off, drawn: one }];
    });
}

function worst(misses: readonly Miss[]): number {
  return Math.max(0, ...misses.map(({ distance: off }) => off));
}

function notMirrored(other: Piece, { drawn, at, distance: off }: Miss): Finding {
  const what = Number.isFinite(off)
    ? `lies up to ${off.toFixed(2)} mm beside its mirror image`
    : 'has no mirror image';
  const message = `the two halves of "${other.name}" are not mirror images: ${drawn.role === 'OUTLINE' ? 'the' : 'a'} ${sideLayer(drawn)} ${what}.`;
  const todo =
    'Redraw one half from the other. What goes with a person and is there on one side only gets the suffix -DRIVER or -PASSENGER; what stays on its side of the body, -LEFT or -RIGHT.';
  return pieceError(other, { rule: 'not-mirrored', message, todo }, { line: drawn.line, at });
}

/**
 * The points of a line that lie on no line of the same layer on the other half. If that half has no such
 * line at all, the line's first point at distance Infinity; or none if the layer has a suffix, because
 * then it may be drawn on one half only.
 */
function strays(drawn: DrawnFeature, others: readonly DrawnFeature[]): FurthestOff[] {
  const layer = sideLayer(drawn);
  const counterparts = others.filter((other) => sideLayer(other) === layer);
  if (counterparts.length === 0) {
    return drawn.follows === null ? [{ at: drawn.path.vertices[0]!, distance: Infinity }] : [];
  }
  return flatten(drawn.path, chordError)
    .map((at) => ({
      at,
      distance: Math.min(...counterparts.map(({ path }) => distanceToPath(path, at))),
    }))
    .filter((place) => place.distance > tolerance);
}

/** Rule: the pile of both halves leans the same way, because it is not mirrored. */
function checkPiles({ pile }: Piece, other: Piece): Finding[] {
  if (pile === null || other.pile === null) return [];
  const between = Math.abs(turnDeg(headingOfLine(pile), headingOfLine(other.pile)));
  if (between <= pileTolerance) return [];
  const message = `the PILE line of the other half of "${other.name}" leans ${between.toFixed(0)} degrees off the first one’s, and both halves are cut with one pile.`;
  const todo = 'Draw it the same way round in both blocks: as fitted, not mirrored.';
  return [pieceError(other, { rule: 'pair-pile', message, todo }, { at: other.pile.from })];
}

function headingOfLine({ from, to }: DrawnLine): number {
  return headingDeg(minus(to, from));
}
