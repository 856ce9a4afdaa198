import type { Change } from '../../../handing/redrawing/changes.ts';
import { drawFill } from '../../svg/fills.ts';
import type { Style } from './hand-panel.ts';
import { dashes, marked, moved, stayed } from './hand-panel.ts';
import type { Entry } from '../../svg/legend.ts';
import { oblong } from '../lay/roll-picture.ts';
import { edgeEntries } from '../edge-strokes.ts';
import { edgeKinds } from '../../../pattern/words.ts';
import { edgeKindWords } from '../said-edges.ts';
import type { ShownHand } from './shown-hand.ts';
import { isAlone, isMarked, movedPieces } from './shown-hand.ts';
import { mm, pathData } from '../../svg/svg.ts';
import { counted } from '../../../base/wording.ts';

/** The legend of the picture of both hands, with how much there is of each. */
export function changeEntries(changes: readonly Change[], type: number): Entry[] {
  const counts = countChanges(changes);
  const alone = { ...marked, fill: { tint: '#ffffff', strokes: [] } };
  return [
    {
      mark: swatch(moved, type),
      words: `${counted(counts.movedPieces, 'piece')} moved, ${counted(counts.withTheirPiece, 'feature')} with them`,
    },
    {
      mark: swatch(stayed, type),
      words: `${counted(counts.stayedPieces, 'piece')} and ${counted(counts.stayedFeatures, 'feature')} stay`,
    },
    {
      mark: swatch(marked, type),
      words: `${counted(counts.movedFeatures, 'feature')} moved, the piece stays`,
    },
    {
      mark: swatch(alone, type, dashes),
      words: `${counted(counts.alone, 'piece or feature', 'pieces or features')} for one hand only`,
    },
  ];
}

/** The kinds of edges that pieces have, and of which somebody said so once for all that no line traces. */
export function edgeEntriesOf(hands: readonly ShownHand[]): Entry[] {
  const kinds = new Set(
    hands.flatMap(({ pieces }) => pieces.flatMap(({ edges }) => edges.map(({ kind }) => kind))),
  );
  return edgeEntries(edgeKindWords).filter((_, i) => kinds.has(edgeKinds[i]!));
}

/** Each change is counted once. */
interface ChangeCounts {
  readonly movedPieces: number;
  readonly stayedPieces: number;
  /** Features that have moved with their piece. */
  readonly withTheirPiece: number;
  /** Features that have moved on a piece that stays. */
  readonly movedFeatures: number;
  readonly stayedFeatures: number;
  /** What exists for one hand only. */
  readonly alone: number;
}

function countChanges(changes: readonly Change[]): ChangeCounts {
  const movers = movedPieces(changes);
  const both = changes.filter((change) => !isAlone(change));
  const pieces = both.filter(({ feature }) => feature === null);
  const features = both.filter(({ feature }) => feature !== null);
  const movedFeatures = features.filter(({ moved: isMoved }) => isMoved);
  const byThemselves = movedFeatures.filter((change) => isMarked(change, movers)).length;
  const movedPiecesHere = pieces.filter(({ moved: isMoved }) => isMoved).length;
  return {
    movedPieces: movedPiecesHere,
    stayedPieces: pieces.length - movedPiecesHere,
    withTheirPiece: movedFeatures.length - byThemselves,
    movedFeatures: byThemselves,
    stayedFeatures: features.length - movedFeatures.length,
    alone: changes.length - both.length,
  };
}

function swatch({ fill, ink, weight }: Style, type: number, dashed = ''): string {
  const box = oblong(0, -type, 2 * type, 0.2 * type);
  const line = `fill="none" stroke="${ink}" stroke-width="${mm(weight)}" ${dashed}`.trim();
  return `${drawFill(fill, [box], type / 2)}<path d="${pathData(box)}" ${line}/>`;
}
