import type { CommentLine } from './actions.ts';

/** As many characters fit into a comment, by the width of the lines of programs. */
const widest = 78;

/**
 * The text that was wrapped into comments: words are put together with blanks. A line that is full and
 * has no blank is a part of a word that was too long for a line.
 */
export function unwrapped(comments: readonly CommentLine[]): string {
  return comments.reduce((text, { text: own }, i) => {
    const before = comments[i - 1]?.text;
    const isCut = before !== undefined && before.length === widest && !before.includes(' ');
    return i === 0 ? own : `${text}${isCut ? '' : ' '}${own}`;
  }, '');
}

/**
 * A text as a comment can say it: in plain ASCII, without what ends a comment. Blanks mean nothing,
 * because comments are wrapped: they are left out.
 */
export function sayable(text: string): string {
  // Nearly every text is plain already.
  if (/^[!-'*-:<-~ ]*$/.test(text) && !text.includes('%')) return text.replaceAll(' ', '');
  return [...text.normalize('NFKD')]
    .filter((sign) => !/\p{Mark}|\s/u.test(sign))
    .map((sign) => {
      if (sign === '(') return '[';
      if (sign === ')') return ']';
      return sign < '!' || sign > '~' || sign === ';' || sign === '%' ? '?' : sign;
    })
    .join('');
}
