import type { Shop } from '../../api/shop.ts';

/** Where a piece may belong. */
export const sideChoices = [
  { value: 'pair', words: 'a pair, left and right' },
  { value: 'centre', words: 'the middle' },
  { value: 'left', words: 'left, fixed to the body' },
  { value: 'right', words: 'right, fixed to the body' },
  { value: 'driver', words: 'the driver’s side' },
  { value: 'passenger', words: 'the passenger’s side' },
] as const;

/** Where the pile may lean, in the vehicle. */
export const pileWays = [
  { value: 'forward', words: 'forward' },
  { value: 'rearward', words: 'to the rear' },
  { value: 'left', words: 'left' },
  { value: 'right', words: 'right' },
] as const;

export const drawnHalves = [
  { value: 'left', words: 'the left' },
  { value: 'right', words: 'the right' },
] as const;

/**
 * The materials of the shop, and the one that the piece names even if the shop has none of that name. `isOpen`:
 * it names none yet.
 */
export function materialChoices(
  own: string,
  shop: Shop | null,
  isOpen = false,
): readonly { readonly value: string; readonly words: string }[] {
  const known = (shop?.materials ?? []).map(({ name, title }) => ({ value: name, words: title }));
  const uses = [
    { value: 'carpet', words: 'the carpet that the order chooses' },
    { value: 'pad', words: 'the pad that the order chooses' },
    { value: 'board', words: 'the board that the order chooses' },
    { value: 'underlay', words: 'the underlay that the order chooses' },
  ];
  const all = [...known, ...uses];
  return isOpen || all.some(({ value }) => value === own)
    ? all
    : [{ value: own, words: `${own} (the shop has none of that name)` }, ...all];
}
