import type { TextEntity } from '../../drawing/drawing.ts';
import type { Finding } from '../../base/findings.ts';
import { listed } from '../../base/wording.ts';
import { namedSide } from '../first-look/side-words.ts';
import { pieceWarning } from '../findings.ts';
import { materialsNamed } from '../choice.ts';
import type { Labels } from '../labels.ts';
import { labelsOf } from '../labels.ts';
import type { Piece } from '../piece.ts';
import type { SetContent } from '../set-file.ts';
import { textsKey } from '../set-file.ts';
import { hands, otherSide } from '../words.ts';
import { entrySide, hasCounterpart } from './side-names.ts';

/**
 * Rules: the set file does not say otherwise than the texts on a piece that are understood: its name, its
 * quantity, its material and the hand that it is for. A name of a material that the shop does not have
 * says nothing. `isMaterial`: whether it has one of that name.
 */
export function checkStated(
  piece: Piece,
  set: SetContent,
  isMaterial: (name: string) => boolean,
): Finding[] {
  const { open } = piece.entry;
  if (open?.[textsKey] !== undefined) return [];
  const labels = labelsOf(piece.notes);
  return [
    ...(open?.['material'] === undefined ? checkMaterial(piece, labels, isMaterial) : []),
    ...(open?.['quantity'] === undefined && open?.['side'] === undefined
      ? checkQuantity(piece, labels, set)
      : []),
    ...(open?.['side'] === undefined ? checkName(piece, labels, set) : []),
    ...checkOnly(piece),
  ];
}

function checkMaterial(
  piece: Piece,
  { material }: Labels,
  isMaterial: (name: string) => boolean,
): Finding[] {
  const { entry } = piece;
  const said = material?.toLowerCase().replaceAll(/[^a-z0-9]+/g, '-');
  if (
    said === undefined ||
    Object.values(materialsNamed(entry)).includes(said) ||
    !isMaterial(said)
  )
    return [];
  const message = `a text on the piece says "Material: ${material}", and the set file says "material: ${entry.material}".`;
  const todo = 'Correct the one that is wrong.';
  return [pieceWarning(piece, { rule: 'text-material', message, todo }, spotOf(piece, 'material'))];
}

/**
 * A single number, or one for each side. Of a pair it may count pairs. Of two pieces of a like name for
 * left and right it may count both, but not the other one alone.
 */
function checkQuantity(piece: Piece, { quantity }: Labels, { pieces }: SetContent): Finding[] {
  if (quantity === undefined) return [];
  const { side, quantity: cut } = piece.entry;
  const { right, left, saysSides } = quantity;
  const total = right + left;
  const perSide = right === cut && left === cut;
  const counted = right === cut && !saysSides;
  const isSided = side === 'left' || side === 'right';
  const fits =
    side === 'pair'
      ? perSide || counted || (!saysSides && total === 2 * cut)
      : (total === cut && !(side === 'right' && right === 0)) ||
        (isSided && perSide && hasCounterpart(piece.name, pieces));
  if (fits) return [];
  const said = saysSides ? `${right},${left}` : `${right}`;
  const often = side === 'pair' ? `${cut} for each side` : `${cut} in each set`;
  const message = `a text on the piece says "Quantity: ${said}"${saysSides ? ' (right, left)' : ''}, and the set file says "side: ${side}" and cuts ${often}.`;
  const todo = 'Correct "side:" or "quantity:" of the piece, or the text.';
  return [pieceWarning(piece, { rule: 'text-quantity', message, todo }, spotOf(piece, 'quantity'))];
}

/** A name says left or right of a centre piece too, and may be decided to be right there. */
function checkName(piece: Piece, { name }: Labels, { drawn }: SetContent): Finding[] {
  const says = name === undefined ? null : namedSide(name).says;
  if (says !== 'left' && says !== 'right') return [];
  const { side, drawnSide, decided } = piece.entry;
  const isBoth = side === 'centre' && decided === undefined;
  if (!isBoth && entrySide(piece.entry, drawn) !== otherSide(says)) return [];
  const entry = side === 'pair' ? `drawnSide: ${drawnSide}` : `side: ${side}`;
  const message = `a text on the piece says "Piece Name: ${name}", that is the ${says} one, and the set file says "${entry}".`;
  const todo = 'Correct the one that is wrong.';
  return [
    pieceWarning(piece, { rule: 'text-side', message, todo }, spotOf(piece, 'piece\\s+name')),
  ];
}

const onlyOf =
  /\b([LR]HD)\s+(?:cars?\s+|vehicles?\s+|vans?\s+)?only\b|\bonly\s+(?:for\s+)?([LR]HD)\b/i;

function checkOnly(piece: Piece): Finding[] {
  const { only, decided } = piece.entry;
  if (decided !== undefined) return [];
  const text = textsOf(piece).find((one) => onlyOf.test(one.text));
  if (text === undefined) return [];
  const [, before, behind] = onlyOf.exec(text.text)!;
  const said = hands.find((hand) => hand === (before ?? behind)!.toUpperCase());
  if (said === only) return [];
  const cut = only === undefined ? `cuts it for ${listed(hands)}` : `says "only: ${only}"`;
  const message = `a text on the piece says that it is for ${said} only, and the set file ${cut}.`;
  const todo = `Write "only: ${said}", or write down as "decided:" of the piece why the text does not matter.`;
  return [
    pieceWarning(piece, { rule: 'text-hand', message, todo }, { line: text.line, at: text.at }),
  ];
}

function textsOf({ notes }: Piece): TextEntity[] {
  return notes.filter((one): one is TextEntity => one.kind === 'text');
}

/** Where the text with a label is drawn. */
function spotOf(piece: Piece, label: string): Pick<TextEntity, 'line' | 'at'> {
  const { line, at } = textsOf(piece).find(({ text }) =>
    new RegExp(`^\\s*${label}\\s*:`, 'im').test(text),
  )!;
  return { line, at };
}
