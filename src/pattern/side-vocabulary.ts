import type { Side } from './words.ts';

/** Words by which drawings and names say a side, or that both are wanted. */

const sideWords: ReadonlyMap<string, Side> = new Map([
  ...['left', 'lh', 'lhs'].map((word) => [word, 'left'] as const),
  ...['right', 'rh', 'rhs'].map((word) => [word, 'right'] as const),
]);

const sideLetters: ReadonlyMap<string, Side> = new Map([
  ['l', 'left'],
  ['r', 'right'],
]);

/**
 * The side that a word says, in upper or lower case. `letters`: whether a single letter counts, as it does
 * at the end of a name; a mat of type R is no right mat.
 */
export function sideInWord(word: string, letters: boolean): Side | undefined {
  const small = word.toLowerCase();
  return sideWords.get(small) ?? (letters ? sideLetters.get(small) : undefined);
}

const each =
  /\b(?:pairs?|(?:each|both) sides?|(?:1|one)(?: off)? each|(?:lh?|left)\s*(?:&|\+|and|\/)\s*(?:rh?|right)|(?:rh?|right)\s*(?:&|\+|and|\/)\s*(?:lh?|left))\b/i;
const handed = /\b(?:mirror(?:ed)?|(?<!(?:left|right)[ -])handed|opp(?:osite|\.)? hand)\b/i;
const denied = /\b(?:not?|never|don['’]?t)\b/i;

/** Whether a text says that one is cut for each side, and does not deny it. */
export function saysEachSide(text: string): boolean {
  return each.test(text) && !denied.test(text);
}

/** Whether a text says that the mirror image is cut too: for the other side, or for the other hand. */
export function saysHanded(text: string): boolean {
  return handed.test(text) && !denied.test(text);
}
