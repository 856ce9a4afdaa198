import type { TextEntity } from '../../drawing/drawing.ts';
import type { Finding } from '../../base/findings.ts';
import { mirrorLineOf } from '../../geometry/fitting/mirror.ts';
import { namedSide } from '../first-look/side-words.ts';
import { pieceWarning } from '../findings.ts';
import type { Piece } from '../piece.ts';
import type { SetContent } from '../set-file.ts';
import { textsKey } from '../set-file.ts';
import { twinTolerance } from '../twins.ts';
import type { Hand, Side } from '../words.ts';
import { otherSide } from '../words.ts';
import { entrySide, hasCounterpart, isSameName } from './side-names.ts';
import { hasTwin } from './twins.ts';

/** A text that says a side and nothing else, `RH` for example. */
interface SideMark {
  readonly text: TextEntity;
  readonly says: Side;
}

/**
 * Rule: a mark for left or right on a piece agrees with its side, and one that is there for that side
 * alone has its twin: otherwise the other one was forgotten. A symmetrical piece may carry any.
 */
export function checkSideMarks(
  { pieces, drawn }: Pick<SetContent, 'pieces' | 'drawn'>,
  piece: Piece,
  all: readonly Piece[],
): Finding[] {
  const { side, half, only, decided, open } = piece.entry;
  const isAsked = open?.['side'] !== undefined || open?.[textsKey] !== undefined;
  if (half || isAsked || only !== undefined || decided !== undefined) return [];
  const named = contraryName(piece, drawn);
  if (named !== null) return [named];
  if (side === 'pair') return [];
  const mark = markOn(piece);
  if (mark === null || mirrorLineOf(piece.outline, twinTolerance) !== null) return [];
  const { text, says } = mark;
  const own = entrySide(piece.entry, drawn);
  if (own === says) {
    const isFixed = side === 'left' || side === 'right';
    // A piece that is called after its side is told by its name.
    const isTold = namedSide(piece.name).says !== null;
    if (!isFixed || isTold || hasCounterpart(piece.name, pieces) || hasTwin(piece, all)) return [];
  }
  const other = otherSide(says);
  const why =
    own === says
      ? `the set has no such piece for the ${other}`
      : `the set file says "side: ${side}"`;
  const message = `a text on the piece says "${text.text.trim()}", that is the ${says} one, and ${why}.`;
  const todo = `If both sides are wanted, write "side: pair" with "drawnSide: ${says}"; otherwise correct the one that is wrong, or write down as "decided:" why there is only one.`;
  const wording = { rule: 'side-mark', message, todo };
  return [pieceWarning(piece, wording, { line: text.line, at: text.at })];
}

/** A text that is the name of the piece, and says the other side than that on which it is drawn. */
function contraryName({ notes, ...piece }: Piece, drawn: Hand): Finding | null {
  const { side, drawnSide, other } = piece.entry;
  const own = entrySide(piece.entry, drawn);
  // With both halves drawn, the texts of both may have come along.
  if (own === null || other !== undefined) return null;
  const { bare } = namedSide(piece.name);
  const texts = notes.filter((text): text is TextEntity => text.kind === 'text');
  const found = texts.map((text) => ({ text, ...namedSide(text.text) }));
  const names = found.filter(
    (one) =>
      (one.says === 'left' || one.says === 'right') &&
      isSameName(one.bare.toLowerCase(), bare.toLowerCase()),
  );
  const wrong = names.find(({ says }) => says === otherSide(own));
  if (wrong === undefined || names.some(({ says }) => says === own)) return null;
  const entry = side === 'pair' ? `drawnSide: ${drawnSide}` : `side: ${side}`;
  const message = `a text on the piece says "${wrong.text.text.trim()}", that is the ${otherSide(own)} one, and the set file says "${entry}".`;
  const todo = 'Correct the one that is wrong, or write down as "decided:" why it is right.';
  const wording = { rule: 'side-mark', message, todo };
  return pieceWarning({ notes, ...piece }, wording, { line: wrong.text.line, at: wrong.text.at });
}

function markOn({ notes }: Piece): SideMark | null {
  const marks = notes.flatMap((text): SideMark[] => {
    if (text.kind !== 'text') return [];
    const { says, bare } = namedSide(text.text);
    return bare === '' && (says === 'left' || says === 'right') ? [{ text, says }] : [];
  });
  const [first] = marks;
  return first !== undefined && marks.every(({ says }) => says === first.says) ? first : null;
}
