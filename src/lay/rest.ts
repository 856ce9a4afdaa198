import type { Roll } from './lay.ts';

/**
 * What a lay leaves on its roll, in whole mm, rounded down. `taken` is the length of the lay, mm: from the
 * start of the roll, with its start margin, to the far edge of the last part. There the roll is cut off
 * square. Nothing is trimmed besides, and feeds between bites lose no cloth. The new end has the same start
 * margin once more, so no more than that counts as nothing: 0. null: nobody knows, because the length was
 * not said or the roll is a remnant of its own shape.
 */
export function restLength(
  { length, startMargin, outline }: Pick<Roll, 'length' | 'startMargin' | 'outline'>,
  taken: number,
): number | null {
  if (length === Infinity || outline !== undefined) return null;
  // Lengths are recorded with six decimals: what is lost there is no mm.
  const rest = Math.floor(length - taken + 1e-5);
  return rest > startMargin ? rest : 0;
}
