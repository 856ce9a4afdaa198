import { rememberedForBoth } from '../base/remembered.ts';
import type { Box } from '../geometry/paths/box.ts';
import { boxesOverlap, boxOfPoints, heightOf, widthOf } from '../geometry/paths/box.ts';
import { centrelineMirror } from '../handing/frame.ts';
import type { LyingPiece } from '../handing/lying-piece.ts';
import { hasSpot, movedPiece, lyingPiece, spotsIn } from '../handing/lying-piece.ts';
import type { Piece } from '../pattern/piece.ts';
import type { BoxView } from './box-view.ts';
import { extentOf } from './box-view.ts';

/** Two pieces that lie on each other in the vehicle, and about where; of a pair also its own halves. */
export interface PlanOverlap {
  readonly pieces: readonly [string, string];
  /** minX, minY, maxX, maxY, mm in the vehicle. */
  readonly box: BoxView;
}

/** The pieces of a set that lie on each other, as its plan shows them: those of pairs on both sides. */
export function overlapsOf(pieces: readonly Piece[]): PlanOverlap[] {
  return pieces.flatMap((one, i) =>
    pieces.slice(i).flatMap((other): PlanOverlap[] => {
      const box = one === other ? ownOverlap(one) : overlapOf(one, other);
      return box === null ? [] : [{ pieces: [one.name, other.name], box: extentOf(box) }];
    }),
  );
}

const isPair = ({ entry }: Piece): boolean => entry.side === 'pair';

/** Where the two halves of a pair lie on each other; null: nowhere, or it is no pair. */
function ownOverlap(piece: Piece): Box | null {
  if (!isPair(piece)) return null;
  const placed = lyingPiece(piece);
  return commonBox(placed, movedPiece(placed, centrelineMirror));
}

const overlapOf = rememberedForBoth((one: Piece, other: Piece): Box | null => {
  const [first, second] = [lyingPiece(one), lyingPiece(other)];
  const own = commonBox(first, second);
  if (own !== null || !(isPair(one) || isPair(other))) return own;
  return isPair(other)
    ? commonBox(first, movedPiece(second, centrelineMirror))
    : commonBox(movedPiece(first, centrelineMirror), second);
});

/** Pieces that lie on each other by less than this, mm, lie beside each other. */
const least = 2;

/** What two pieces have in common is looked at in so many places across and along. */
const looks = 16;

/** About where two pieces lie on each other; null: nowhere. */
function commonBox(one: LyingPiece, other: LyingPiece): Box | null {
  if (!boxesOverlap(one.box, other.box)) return null;
  const both = intersection(one.box, other.box);
  if (widthOf(both) < least || heightOf(both) < least) return null;
  const spots = spotsIn(one, both, looks).filter((spot) => hasSpot(other, spot));
  if (spots.length < 2) return null;
  const { minX, minY, maxX, maxY } = boxOfPoints(spots);
  const [dx, dy] = [widthOf(both) / looks / 2, heightOf(both) / looks / 2];
  return { minX: minX - dx, minY: minY - dy, maxX: maxX + dx, maxY: maxY + dy };
}

function intersection(one: Box, other: Box): Box {
  return {
    minX: Math.max(one.minX, other.minX),
    minY: Math.max(one.minY, other.minY),
    maxX: Math.min(one.maxX, other.maxX),
    maxY: Math.min(one.maxY, other.maxY),
  };
}
