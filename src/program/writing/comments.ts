/** Lines have at most this many characters. Controllers take 256, but operators read fewer. */
export const longestLine = 80;

/**
 * A text as comments of a program, wrapped at words. Comments do not nest, so brackets become square
 * ones. Accents are dropped, and other signs outside ASCII become `?`. No line looks like a message to
 * the operator.
 */
export function commentLines(text: string): string[] {
  return wrap(plain(text), longestLine - 2).map((line) => `(${line.replace(/^MSG *,/i, 'MSG -')})`);
}

/**
 * A comment that the controller shows to the operator. A text that is too long for one line is shortened.
 */
export function messageLine(text: string): string {
  return `(MSG, ${plain(text).slice(0, longestLine - 7)})`;
}

function plain(text: string): string {
  return text
    .normalize('NFKD')
    .replace(/\p{Mark}/gu, '')
    .replaceAll('(', '[')
    .replaceAll(')', ']')
    .replace(/\s+/g, ' ')
    .replace(/[^\x20-\x7e]|[;%]/gu, '?')
    .trim();
}

function wrap(text: string, width: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text
    .split(' ')
    .flatMap((long) => long.match(new RegExp(`.{1,${width}}`, 'g')) ?? [''])) {
    if (line !== '' && line.length + 1 + word.length > width) {
      lines.push(line);
      line = word;
    } else {
      line = line === '' ? word : `${line} ${word}`;
    }
  }
  return [...lines, line];
}
