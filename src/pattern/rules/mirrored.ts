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
import { pieceError } from '../findings.ts';
import { layerName } from '../layers.ts';
import type { Piece } from '../piece.ts';
import type { DrawnLine, Feature } from '../feature.ts';
import { pileTolerance } from '../pile.ts';

/** How far two halves of a pair may be from mirror images of each other, mm. */
const tolerance = 0.1;

/** Something drawn on a piece, its outline included. */
type DrawnFeature = Pick<Feature, 'role' | 'follows' | 'path' | 'line'>;

/** Where a line is furthest from those it should lie on, mm; Infinity where there are none. */
interface FurthestOff {
  readonly at: Point;
  readonly distance: number;
}

interface Miss extends FurthestOff {
  readonly drawn: DrawnFeature;
}

/**
 * Whether the other half of a pair, which is drawn too, is the piece's mirror image: outline and
 * features, each held against all of its layer. The mirror is the piece's AXIS, or an upright line
 * without one; the image is then moved to where the outlines fit best. What has a suffix may be drawn
 * on one half alone. Places are in the frame of the other half's block.
 */
export function checkMirrored(piece: Piece, other: Piece): Finding[] {
  const images = imagesOf(piece, mirrorOnto(piece, other));
  const theirs = drawnOn(other);
  const layers = [...new Set([...images, ...theirs].map(layerName))];
  const misses = layers.flatMap((layer) => {
    const ours = missesOn(layer, images, theirs);
    const back = missesOn(layer, theirs, images);
    // What has moved is off on both halves: it is said once, of the half that shows more of it.
    return worst(back) > worst(ours) + tolerance ? back : ours;
  });
  return [...misses.map((miss) => notMirrored(other, miss)), ...checkPiles(piece, other)];
}

function drawnOn({ outline, features, where }: Piece): DrawnFeature[] {
  return [{ role: 'OUTLINE', follows: null, path: outline, line: where.line ?? 1 }, ...features];
}

/** The mirror, and the shift that lays one corner of the image's box on the other outline's: the one with the best fit. */
function mirrorOnto(piece: Piece, other: Piece): Transform {
  const { axis } = piece;
  const mirror = axis === null ? reflection({ x: 0, y: 0 }, 90) : reflectionIn(axis);
  const from = boxOfPath(transformPath(mirror, piece.outline));
  const to = boxOfPath(other.outline);
  // Where one side of an outline is wrong, the corners on the other side still fit.
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

/** The lines of a layer that do not lie on those of the other half, each where it is furthest off. */
function missesOn(
  layer: string,
  drawn: readonly DrawnFeature[],
  others: readonly DrawnFeature[],
): Miss[] {
  return drawn
    .filter((one) => layerName(one) === layer)
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
  const message = `the two halves of "${other.name}" are not mirror images: ${drawn.role === 'OUTLINE' ? 'the' : 'a'} ${layerName(drawn)} ${what}.`;
  const todo =
    'Redraw one half from the other, or give what is there on one side only the suffix -LEFT or -RIGHT.';
  return pieceError(other, { rule: 'not-mirrored', message, todo }, { line: drawn.line, at });
}

/** Where a line lies furthest from all others of its layer. What has a suffix may be drawn on one half alone: then nothing. */
function strays(drawn: DrawnFeature, others: readonly DrawnFeature[]): FurthestOff[] {
  const layer = layerName(drawn);
  const counterparts = others.filter((other) => layerName(other) === layer);
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

/** The pile leans one way in the vehicle: no half of a pair has it mirrored. */
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
