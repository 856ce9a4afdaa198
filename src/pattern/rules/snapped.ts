import type { Finding } from '../../base/findings.ts';
import { wordSpot } from '../../base/findings.ts';
import { rememberedFor } from '../../base/remembered.ts';
import { counted, shownNames } from '../../base/wording.ts';
import { followPath } from '../../geometry/measuring/follow.ts';
import type { MeasuredPath } from '../../geometry/measuring/measured-path.ts';
import { measurePath, nearestPlace } from '../../geometry/measuring/measured-path.ts';
import { pathLength } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { distance } from '../../geometry/paths/point.ts';
import { tracedKinds, traceTolerance } from '../edges.ts';
import type { Feature } from '../feature.ts';
import { pieceNote } from '../findings.ts';
import { layerName } from '../layers.ts';
import { alikeInConditions } from '../conditions.ts';
import type { Piece } from '../piece.ts';

/** What is moved by no more than this (mm) is not told: no cutter shows it. */
const untold = 0.05;

/** Something drawn beside the outline and moved onto it: where it is furthest off, and how far, mm. */
interface Snap {
  readonly piece: Piece;
  readonly feature: Feature;
  readonly at: Point;
  readonly off: number;
}

/**
 * Rule: what belongs on the outline (traces, notches, drill marks at the edge) and is drawn a little
 * beside it is moved onto it, and that is told. One note for all pieces, with the place that is furthest
 * off; what goes with options has its own.
 */
export function checkSnapped(pieces: readonly Piece[]): Finding[] {
  return toldTogether(pieces).flatMap((together) =>
    alikeInConditions(together.flatMap(snapsOf), ({ feature }) => feature.when).flatMap(snapped),
  );
}

/** The pieces that one finding can speak of together: one whose outline goes with options stands alone. */
export function toldTogether(pieces: readonly Piece[]): (readonly Piece[])[] {
  const optional = pieces.filter(hasOptionalOutline);
  const always = pieces.filter((piece) => !optional.includes(piece));
  return [always, ...optional.map((piece) => [piece])];
}

function hasOptionalOutline({ forAll }: Piece): boolean {
  return forAll?.features.some(({ role, when }) => role === 'OUTLINE' && when.length > 0) ?? false;
}

/** The note on things that are told together: one at least. */
function snapped(snaps: readonly Snap[]): Finding[] {
  const { piece, feature, at, off } = snaps.reduce((most, one) =>
    one.off > most.off ? one : most,
  );
  const layers = [...new Set(snaps.map((one) => layerName(one.feature)))];
  const names = [...new Set(snaps.map((one) => one.piece.name))];
  const things = `${counted(snaps.length, 'thing')} on ${layers.join(', ')}`;
  const drawn = `${snaps.length === 1 ? 'is' : 'are'} drawn up to ${off.toFixed(2)} mm beside the outline`;
  const rule = 'snapped';
  const todo = `Nothing to do: ${traceTolerance} mm is allowed. What does not belong on the outline must be drawn further off.`;
  if (names.length === 1) {
    const message = `${things} ${drawn}, and moved onto it.`;
    return [pieceNote(piece, { rule, message, todo }, { line: feature.line, at })];
  }
  const message = `${things} of ${names.length} pieces (${shownNames(names)}) ${drawn}, furthest at ${wordSpot(at)} in ${piece.name}, and moved onto it.`;
  const { file } = piece.where;
  return [
    {
      severity: 'note',
      rule,
      message,
      todo,
      where: { ...(file !== undefined && { file }), line: feature.line },
    },
  ];
}

const snapsOf = rememberedFor((piece: Piece): Snap[] => {
  const outline = measurePath(piece.outline);
  return piece.features
    .flatMap((feature) => snapOf(feature, outline))
    .filter(({ off }) => off > untold && off <= traceTolerance)
    .map((snap) => ({ ...snap, piece }));
});

function snapOf(feature: Feature, outline: MeasuredPath): Omit<Snap, 'piece'>[] {
  const { role, path } = feature;
  if (tracedKinds[role] !== undefined) {
    if (pathLength(path) <= traceTolerance) return [];
    const { at, distance: off } = followPath(outline, path, traceTolerance).furthest;
    return [{ feature, at, off }];
  }
  const isDrillMark = role === 'HOLE' && path.vertices.length === 1;
  if (role !== 'NOTCH' && !isDrillMark) return [];
  const ends = [path.vertices[0]!, path.vertices.at(-1)!].map(({ x, y }) => {
    const at = { x, y };
    return { feature, at, off: distance(at, nearestPlace(outline, at).point) };
  });
  return [ends[0]!.off <= ends[1]!.off ? ends[0]! : ends[1]!];
}
