import type { AppliedEdit, DraftContent } from './content.ts';
import type { DraftEdit } from './draft-edit.ts';
import type { EdgeContext } from './edit-context.ts';
import { editAxis } from './edits/axis.ts';
import { withDecidedAsked } from './edits/decided.ts';
import { editEdge, nameEdge } from './edits/edges.ts';
import { closeGap } from './edits/gaps.ts';
import {
  beginPiece,
  dropPiece,
  pairPieces,
  placeInVehicle,
  renamePiece,
  turnPiece,
  turnToFront,
} from './edits/pieces.ts';
import { editLayer, editPieces, editSet } from './edits/said.ts';
import { editSeam, removeSeam, setSeamNotches } from './edits/seams.ts';
import {
  addThing,
  copyThings,
  editFollows,
  editMeaning,
  giveThings,
  moveThings,
  removeThings,
} from './edits/things.ts';

/**
 * The content of a draft after an edit. Throws a Refusal where the edit names what is not there, or cannot
 * be.
 */
export function applyEdit(
  content: DraftContent,
  edit: DraftEdit,
  context: EdgeContext,
): AppliedEdit | DraftContent {
  const after = edited(content, edit, context);
  return ofThings.has(edit.kind) ? withDecidedAsked(content, after, context) : after;
}

/** Edits of what is drawn on pieces. */
const ofThings: ReadonlySet<DraftEdit['kind']> = new Set([
  'mean',
  'follow',
  'add',
  'remove',
  'move',
  'copy',
  'give',
  'close-gap',
]);

function edited(
  content: DraftContent,
  edit: DraftEdit,
  context: EdgeContext,
): AppliedEdit | DraftContent {
  switch (edit.kind) {
    case 'set':
      return editSet(content, edit);
    case 'pieces':
      return editPieces(content, edit);
    case 'layer':
      return editLayer(content, edit);
    case 'mean':
      return editMeaning(content, edit);
    case 'follow':
      return editFollows(content, context.layersOf(edit.piece), edit);
    case 'add':
      return addThing(content, edit);
    case 'remove':
      return removeThings(content, edit);
    case 'move':
      return moveThings(content, edit);
    case 'copy':
      return copyThings(content, edit);
    case 'give':
      return giveThings(content, edit);
    case 'close-gap':
      return closeGap(content, edit);
    case 'begin-piece':
      return beginPiece(content, edit);
    case 'drop-piece':
      return dropPiece(content, edit);
    case 'rename':
      return renamePiece(content, edit);
    case 'turn':
      return turnPiece(content, edit);
    case 'place':
      return placeInVehicle(content, edit);
    case 'front':
      return turnToFront(content, edit);
    case 'axis':
      return editAxis(content, context.layersOf(edit.piece), edit);
    case 'pair':
      return pairPieces(content, edit);
    case 'edge':
      return editEdge(content, edit, context);
    case 'name-edge':
      return nameEdge(content, edit, context);
    case 'seam':
      return editSeam(content, edit, context);
    case 'unseam':
      return removeSeam(content, edit);
    case 'seam-notches':
      return setSeamNotches(content, edit, context);
  }
}
