import type { TextEntity } from '../../drawing/drawing.ts';
import type { Finding } from '../../base/findings.ts';
import { cutShort } from '../../base/wording.ts';
import { saysPair } from '../first-look/side-words.ts';
import { pieceWarning } from '../findings.ts';
import type { Piece } from '../piece.ts';
import type { SetContent } from '../set-file.ts';
import { textsKey } from '../set-file.ts';
import { hasCounterpart } from './side-names.ts';

/** Words by which the mirror image is cut too, perhaps for the other hand alone. */
const handed = /\bmirror\w*|\bhanded\b|\bopp(?:osite|\.)?[ -]hand\b/gi;
/** Words that only sound so. */
const ofOneSide = /\b(?:left|right)[ -]handed\b/gi;
/** A note that says that it is not so. */
const denied = /\b(?:not?|never|don['’]?t)\b/i;

/**
 * Rule: a note on a piece does not ask for a mirror image that the set file does not give. It is a
 * question, because a note may mean something else.
 */
export function checkPairNotes({ pieces }: Pick<SetContent, 'pieces'>, piece: Piece): Finding[] {
  const { side, half, decided, open } = piece.entry;
  // As long as a question about the texts or the side is open, that is the question.
  if (open?.[textsKey] !== undefined || open?.['side'] !== undefined) return [];
  if (side === 'pair' || half || decided !== undefined) return [];
  if ((side === 'left' || side === 'right') && hasCounterpart(piece.name, pieces)) return [];
  const note = piece.notes.find(
    (one): one is TextEntity => one.kind === 'text' && asksForTwo(one.text, piece),
  );
  if (note === undefined) return [];
  const message = `a note on the piece says "${cutShort(note.text.trim(), 40)}", and the set file says "side: ${side}": it is cut once.`;
  const todo =
    'Make it "side: pair" with "drawnSide:", or write down as "decided:" of the piece why the note does not matter.';
  return [pieceWarning(piece, { rule: 'note-says-pair', message, todo }, note)];
}

/** What goes with a person, or whose outline does, is mirrored for the other hand as it is. */
function asksForTwo(text: string, { entry }: Piece): boolean {
  if (denied.test(text)) return false;
  const isHanded =
    entry.side === 'driver' || entry.side === 'passenger' || entry.outline === 'driver';
  const plain = text.replaceAll(ofOneSide, '');
  return saysPair(isHanded ? plain.replaceAll(handed, '') : plain);
}
