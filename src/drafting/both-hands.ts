import { decimal } from '../base/numbers.ts';
import type { Entity } from '../drawing/drawing.ts';
import { centreOf, unionBox } from '../geometry/paths/box.ts';
import type { Path } from '../geometry/paths/path.ts';
import { boxOfPath } from '../geometry/paths/path.ts';
import type { Change } from '../handing/redrawing/changes.ts';
import { changesOf } from '../handing/redrawing/changes.ts';
import { isTrace } from '../papers/pictures/hands/shown-hand.ts';
import { pathData } from '../papers/svg/svg.ts';
import type { Follows, LayerMap } from '../pattern/layers.ts';
import { pieceOf } from '../pattern/piece.ts';
import type { Piece } from '../pattern/piece.ts';
import type { Hand } from '../pattern/words.ts';
import { hands, otherHand } from '../pattern/words.ts';
import { blockOfPiece } from './blocks.ts';
import type { DraftContent } from './content.ts';
import type { EditContext } from './edit-context.ts';
import type { ReadDraft } from './read-draft.ts';
import { following } from './edits/things.ts';
import type { BoxView } from './box-view.ts';
import { extentOf } from './box-view.ts';

/** A piece in the vehicle with one hand of drive: SVG path data in mm, x to the right, y forward. */
export interface HandPicture {
  readonly hand: Hand;
  readonly isDrawn: boolean;
  /** Its outlines: two for a pair, none where the piece is not cut for this hand. */
  readonly outline: string;
  /** What lies on it. */
  readonly lines: string;
  /** What is not where it is with the other hand, or not there. */
  readonly moved: readonly string[];
  /** The things that are asked about. */
  readonly chosen: readonly string[];
  /** Where these lie, in words: `420 mm right of the centreline`; empty: they are not there. */
  readonly where: readonly string[];
}

/** What a piece is for both hands if some of its things go with this; null: with the piece. */
export interface BothHands {
  readonly follows: Follows | null;
  readonly pictures: readonly HandPicture[];
  /** minX, minY, maxX, maxY of both, mm. */
  readonly box: BoxView;
}

interface Asked {
  readonly piece: string;
  /** Things of its block, by their places. */
  readonly things: readonly number[];
  /** What these may go with; null: with the piece. */
  readonly follows: readonly (Follows | null)[];
}

/**
 * A piece as every order gets it for either hand, for all that some of its things may go with. Nothing
 * is changed. Empty where the piece cannot be read yet. Throws a Refusal where it is not there any more.
 */
export function bothHands(
  content: DraftContent,
  { pieces, drawn, options }: ReadDraft,
  context: EditContext,
  { piece, things, follows }: Asked,
): BothHands[] {
  const read = pieces.find(({ name }) => name === piece);
  if (read === undefined) return [];
  const { entities } = blockOfPiece(content, piece);
  const map = context.layersOf(piece);
  return follows.flatMap((one) => {
    const tried = marked(entities, things, one, map);
    const made = pieceOf(piece, read.entry, tried, map, read.where.file ?? '', options).piece;
    return made === null ? [] : [picturesOf(made, drawn, one)];
  });
}

/** No line of a file has this number: it tells the things that are asked about from all others. */
const askedLine = -1;

/** The things of a block, with those that are asked about told from the others, and gone with what is tried. */
function marked(
  entities: readonly Entity[],
  things: readonly number[],
  follows: Follows | null,
  map: LayerMap,
): Entity[] {
  const chosen = new Set(things);
  return entities.map((entity, i) =>
    chosen.has(i) ? { ...following(entity, follows, map), line: askedLine } : entity,
  );
}

function picturesOf(piece: Piece, drawn: Hand, follows: Follows | null): BothHands {
  // The usual order has the driver's pad alone; a pad for the passenger is only there with both.
  const isAnyAsked = piece.features.some(({ line }) => line === askedLine);
  const heelPads = piece.features.some(
    (one) =>
      one.role === 'PAD' && one.follows === 'PASSENGER' && (one.line === askedLine || !isAnyAsked),
  )
    ? 'both'
    : 'driver';
  const other = otherHand(drawn);
  const changes = changesOf({ pieces: [piece], content: { drawn } }, { hand: other, heelPads });
  const paths = changes.flatMap(({ before, after }) => [...before, ...after]);
  return {
    follows,
    box: extentOf(paths.map(boxOfPath).reduce(unionBox)),
    pictures: hands.map((hand) =>
      pictureOf(changes, hand === drawn ? 'before' : 'after', hand, hand === drawn),
    ),
  };
}

/** One of the two pictures of what changes from the drawn hand to the other. */
function pictureOf(
  changes: readonly Change[],
  when: 'before' | 'after',
  hand: Hand,
  isDrawn: boolean,
): HandPicture {
  const pathsOf = (fits: (change: Change) => boolean): Path[] =>
    changes.filter(fits).flatMap((change) => change[when]);
  const isShown = ({ feature }: Change): boolean => feature !== null && !isTrace(feature);
  const isAsked = ({ feature }: Change): boolean => feature?.line === askedLine;
  const chosen = pathsOf(isAsked);
  return {
    hand,
    isDrawn,
    outline: pathsOf(({ feature }) => feature === null)
      .map(pathData)
      .join(''),
    lines: pathsOf((one) => isShown(one) && !one.moved && !isAsked(one))
      .map(drawnData)
      .join(''),
    moved: pathsOf((one) => isShown(one) && one.moved && !isAsked(one)).map(drawnData),
    chosen: chosen.map(drawnData),
    where: chosen.map(whereWords),
  };
}

/** Half the width of the cross that stands for a point, mm. */
const crossReach = 12;

/** Path data of a line, or of a cross where it is a point. */
function drawnData(path: Path): string {
  if (path.vertices.length > 1) return pathData(path);
  const { x, y } = path.vertices[0]!;
  const [left, right, low, high] = [x - crossReach, x + crossReach, y - crossReach, y + crossReach];
  return `M${left} ${y}L${right} ${y}M${x} ${low}L${x} ${high}`;
}

/** So near to the centreline (mm) something lies on it. */
const onCentreline = 0.05;

function whereWords(path: Path): string {
  const { x } = centreOf(boxOfPath(path));
  if (Math.abs(x) <= onCentreline) return 'on the centreline';
  return `${decimal(Math.abs(x), 1)} mm ${x > 0 ? 'right' : 'left'} of the centreline`;
}
