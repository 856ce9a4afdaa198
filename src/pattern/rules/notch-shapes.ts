import type { Finding } from '../../base/findings.ts';
import { counted, listed, shownNames } from '../../base/wording.ts';
import { alikeInConditions } from '../conditions.ts';
import type { Feature, NotchShape } from '../feature.ts';
import { pieceNote } from '../findings.ts';
import type { Piece } from '../piece.ts';
import { toldTogether } from './snapped.ts';

const shapeWords: Readonly<Record<NotchShape, readonly [one: string, several: string]>> = {
  v: ['drawn as a V', 'drawn as a V'],
  tick: ['drawn as a line across the outline', 'drawn as lines across the outline'],
  t: ['drawn as a T', 'drawn as a T'],
};

/** A notch that is drawn in a shape of its own. */
interface ShapedNotch {
  readonly piece: Piece;
  readonly feature: Feature;
  readonly shape: NotchShape;
}

/**
 * Rule: what was made of notches that are drawn as a V, a tick or a T is told, in one note for all pieces;
 * what goes with options has its own.
 */
export function checkNotchShapes(pieces: readonly Piece[]): Finding[] {
  return toldTogether(pieces).flatMap((together) =>
    alikeInConditions(together.flatMap(shapedOn), ({ feature }) => feature.when).flatMap(drawnAs),
  );
}

function shapedOn(piece: Piece): ShapedNotch[] {
  return piece.features.flatMap((feature) =>
    feature.drawnAs === undefined ? [] : [{ piece, feature, shape: feature.drawnAs }],
  );
}

function drawnAs(notches: readonly ShapedNotch[]): Finding[] {
  const [first] = notches;
  if (first === undefined) return [];
  const shapes = [...new Set(notches.map(({ shape }) => shape))];
  const words = shapes.map((shape) => {
    const count = notches.filter((one) => one.shape === shape).length;
    return `${count} ${shapeWords[shape][count === 1 ? 0 : 1]}`;
  });
  const names = [...new Set(notches.map(({ piece }) => piece.name))];
  const isOne = notches.length === 1;
  const of = names.length === 1 ? '' : ` of ${names.length} pieces (${shownNames(names)})`;
  const message = `${counted(notches.length, 'notch', 'notches')}${of} ${isOne ? 'is' : 'are'} no plain line or point: ${listed(words)}. ${isOne ? 'It is' : 'Each is'} one slit: in the middle of the V, where the line crosses the outline, or along the stem of the T.`;
  const todo = 'Nothing to do: how deep a slit is cut, the material says.';
  const { piece, feature } = first;
  const wording = { rule: 'notch-drawn-as', message, todo };
  if (names.length === 1) {
    return [pieceNote(piece, wording, { line: feature.line, at: feature.path.vertices[0]! })];
  }
  const { file } = piece.where;
  const where = { ...(file !== undefined && { file }), line: feature.line };
  return [{ severity: 'note', ...wording, where }];
}
