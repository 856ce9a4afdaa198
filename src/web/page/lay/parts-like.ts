import type { PicturedPart } from '../../api/pictured.ts';
import { partWords } from '../roll-picture/places/walk.ts';

/** The parts in which all words that were typed occur; those come first whose name begins so. */
export function partsLike(parts: readonly PicturedPart[], typed: string): PicturedPart[] {
  const words = typed
    .toLowerCase()
    .split(/[\s,]+/)
    .filter((word) => word !== '');
  const isLike = (part: PicturedPart): boolean => {
    const text = `${partWords(part)} ${part.label}`.toLowerCase();
    return words.every((word) => text.includes(word));
  };
  const begins = (part: PicturedPart): boolean => part.name.startsWith(words[0] ?? '');
  const like = parts.filter(isLike);
  return [...like.filter(begins), ...like.filter((part) => !begins(part))];
}
