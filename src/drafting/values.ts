import type { DraftContent, PieceSaid, SetSaid } from './content.ts';
import { pieceSaid } from './blocks.ts';

type Plain = Readonly<Record<string, unknown>>;

/** Values with others in their place; null takes a key out. */
export function withValues<T extends object>(before: T, values: Plain): T {
  const all = { ...before, ...values } as Plain;
  return Object.fromEntries(
    Object.entries(all).filter(([, value]) => value !== null && value !== undefined),
  ) as T;
}

/** Values under their keys; null where there are none, so that withValues takes their own key out. */
export function filled(values: Plain): Plain | null {
  return Object.keys(values).length === 0 ? null : values;
}

/** Without the questions under `open:` that are answered; `open` goes with the last. */
export function answeredIn<T extends { readonly open?: SetSaid['open'] }>(
  before: T,
  keys: readonly string[],
): T {
  const { open, ...others } = before;
  if (open === undefined || open === null) return before;
  const left = Object.entries(open).filter(([key]) => !keys.includes(key));
  if (left.length === Object.keys(open).length) return before;
  return (left.length === 0 ? others : { ...before, open: Object.fromEntries(left) }) as T;
}

/** The content with another entry for a piece. */
export function withPiece(content: DraftContent, piece: string, entry: PieceSaid): DraftContent {
  pieceSaid(content, piece);
  return withPieces(content, { ...content.said.pieces, [piece]: entry });
}

export function withPieces(content: DraftContent, pieces: SetSaid['pieces']): DraftContent {
  return { ...content, said: { ...content.said, pieces } };
}
