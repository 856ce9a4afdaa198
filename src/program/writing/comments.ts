/** Lines are kept to this many characters; controllers take 256, operators read fewer. */
export const longestLine = 80;

/**
 * Text as program comments, a line each, wrapped at words: no brackets inside (comments do not
 * nest), plain ASCII (accents dropped, other signs as ?), and no line that a controller would take
 * for a message of its own.
 */
export function commentLines(text: string): string[] {
  return wrap(plain(text), longestLine - 2).map((line) => `(${line.replace(/^MSG *,/i, 'MSG -')})`);
}

/** A comment that the controller shows to the operator. Text too long for its line is cut off. */
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
