import { counted, listed, shownNames } from '../base/wording.ts';
import type { DraftEdit, EditOf } from './draft-edit.ts';

/** What an edit did, as the button for undoing it says it: `front-floor: side pair`. */
export function wordEdit(edit: DraftEdit): string {
  switch (edit.kind) {
    case 'set':
      return `the set: ${wordValues(edit.values, edit.answered)}`;
    case 'pieces':
      return `${shownNames(edit.pieces, 3)}: ${wordValues(edit.values, edit.answered)}`;
    case 'layer':
      return `layer ${edit.layer}: ${edit.means ?? 'says nothing'}`;
    case 'mean':
      return wordMeaning(edit);
    case 'follow':
      return `${edit.piece}: ${counted(edit.things.length, 'thing')} with ${edit.follows?.toLowerCase() ?? 'the piece'}`;
    case 'add':
      return `${edit.block}: ${edit.means} added`;
    case 'remove':
      return `${edit.block}: ${counted(edit.things.length, 'thing')} taken off`;
    case 'move':
      return `${edit.block}: ${counted(edit.things.length, 'thing')} moved`;
    case 'copy':
      return `${edit.block}: ${counted(edit.things.length, 'thing')} copied`;
    case 'give':
      return `${counted(edit.things.length, 'thing')} to ${edit.piece}`;
    case 'close-gap':
      return `${edit.block}: gap closed`;
    case 'begin-piece':
      return `new piece ${edit.piece}`;
    case 'drop-piece':
      return `${edit.piece}: no piece`;
    case 'rename':
      return `${edit.piece}: now ${edit.to}`;
    case 'turn':
      return `${edit.piece}: turned by ${edit.quarters * 90} degrees`;
    case 'place':
      return `${edit.piece}: another place`;
    case 'front':
      return `${shownNames(edit.pieces, 3)}: front is ${edit.front}`;
    case 'axis':
      return `${edit.piece}: ${edit.line === null ? 'no centreline' : 'centreline'}`;
    case 'pair':
      return `${edit.piece} and ${edit.other}: a pair`;
    case 'edge':
      return `${edit.piece}: edge ${edit.edge ?? 'undecided'}`;
    case 'name-edge':
      return `${edit.piece}: edge ${edit.edge} now ${edit.to}`;
    case 'seam':
      return `seam of ${edit.sides.map(({ piece }) => piece).join(' and ')}`;
    case 'unseam':
      return `no seam ${edit.join.join(' to ')}`;
    case 'seam-notches':
      return `notches along ${edit.join.join(' and ')}`;
  }
}

function wordMeaning({ block, things, means, also = [] }: EditOf<'mean'>): string {
  const all = [{ block, things }, ...also];
  const count = all.reduce((sum, one) => sum + one.things.length, 0);
  const blocks = shownNames([...new Set(all.map((one) => one.block))], 3);
  return `${blocks}: ${counted(count, 'thing')} to ${means}`;
}

function wordValues(
  values: Readonly<Record<string, unknown>>,
  answered: readonly string[],
): string {
  const said = Object.entries(values).map(([key, value]) =>
    typeof value === 'string' || typeof value === 'number' ? `${key} ${value}` : key,
  );
  return said.length > 0 ? listed(said) : `${listed(answered)} answered`;
}
