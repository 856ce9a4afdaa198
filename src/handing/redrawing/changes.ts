import type { Path } from '../../geometry/paths/path.ts';
import { sameCurve } from '../../geometry/measuring/same-curve.ts';
import { samePoint } from '../../geometry/paths/tolerance.ts';
import type { Piece } from '../../pattern/piece.ts';
import type { Feature } from '../../pattern/feature.ts';
import type { PatternSet } from '../../pattern/set.ts';
import type { Hand } from '../../pattern/words.ts';
import { placeOfFeature, placeOfOutline } from '../features.ts';
import type { Order } from '../order.ts';
import { positionsOf } from '../sides.ts';

/**
 * What becomes of a piece or a feature when its set is derived for the other hand. Paths are in the frame
 * of the vehicle, mm: two if it exists on both sides, none if it does not exist.
 */
export interface Change {
  readonly piece: Piece;
  /** null: the piece itself; the paths are its outline. */
  readonly feature: Feature | null;
  /** Its paths for the hand for which the set is drawn, with the same options. */
  readonly before: readonly Path[];
  /** Its paths for the hand that was asked for. */
  readonly after: readonly Path[];
  /** Whether any of its paths has moved, come or gone. */
  readonly moved: boolean;
  /** The reason, in the words of the trade. */
  readonly why: string;
}

/** What changes are found in: pieces of a set, and the hand that is drawn. */
interface ChangedSet {
  readonly pieces: PatternSet['pieces'];
  readonly content: Pick<PatternSet['content'], 'drawn'>;
}

type Options = Pick<Order, 'hand' | 'heelPads'>;

/** The changes of each piece of a set and then of its features, in the order of the set file. */
export function changesOf({ pieces, content }: ChangedSet, options: Options): Change[] {
  const { drawn } = content;
  return pieces.flatMap((piece) => [
    changeOf(piece, null, drawn, options),
    ...piece.features.map((feature) => changeOf(piece, feature, drawn, options)),
  ]);
}

function changeOf(piece: Piece, feature: Feature | null, drawn: Hand, options: Options): Change {
  const pathsFor = (hand: Hand): Path[] =>
    positionsOf(piece.entry, drawn, hand).flatMap((position) =>
      feature === null
        ? [placeOfOutline(piece, position)]
        : placeOfFeature(feature, piece, position, drawn, { ...options, hand }),
    );
  const before = pathsFor(drawn);
  const after = pathsFor(options.hand);
  const moved = !(covers(before, after) && covers(after, before));
  return { piece, feature, before, after, moved, why: why(piece, feature) };
}

/**
 * Whether each path lies where one of the others lies. Something symmetrical that is mirrored onto itself
 * has not moved.
 */
function covers(paths: readonly Path[], others: readonly Path[]): boolean {
  return paths.every((path) => others.some((other) => sameCurve(path, other, samePoint)));
}

/** Why a piece or feature moves or stays, in words. */
function why(piece: Piece, feature: Feature | null): string {
  return feature === null ? whyPiece(piece) : whyFeature(piece, feature);
}

function whyPiece({ entry }: Piece): string {
  const { side, outline, only } = entry;
  if (only !== undefined) return `cut for ${only} only`;
  switch (side) {
    case 'centre':
      return outline === 'driver'
        ? 'its outline follows the driver'
        : 'its outline is that of the body';
    case 'pair':
      return 'a pair: both sides are cut for either hand';
    case 'left':
    case 'right':
      return `fixed to the ${side} of the body`;
    case 'driver':
    case 'passenger':
      return `goes with the ${side}`;
  }
}

function whyFeature({ entry }: Piece, { role, follows }: Feature): string {
  const { side, outline } = entry;
  switch (follows) {
    case 'DRIVER':
    case 'PASSENGER':
      return `follows the ${follows.toLowerCase()}`;
    case 'LEFT':
    case 'RIGHT':
      return side === 'driver' || side === 'passenger'
        ? `there only where its piece lies on the ${follows.toLowerCase()}`
        : `stays on the ${follows.toLowerCase()} of the vehicle`;
    case null:
      if (side === 'driver' || side === 'passenger' || outline === 'driver') {
        return 'goes with its piece';
      }
      if (role === 'PAD') return 'for the driver or for both, as the order says';
      return side === 'pair' ? 'on both halves of the pair' : 'belongs to the body';
  }
}
