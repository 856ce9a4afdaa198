import { lineWidth } from './label.ts';

/**
 * Divides a text into lines no wider than `width`. A word that is too long is broken. `measure` gives the
 * width of a line; left out: lineWidth, whose unit is the type's height.
 */
export function wrapped(
  text: string,
  width: number,
  measure: (line: string) => number = lineWidth,
): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(/\s+/).flatMap((one) => broken(one, width, measure))) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (measure(longer) > width && line !== '') {
      lines.push(line);
      line = word;
    } else line = longer;
  }
  return line === '' ? lines : [...lines, line];
}

function broken(word: string, width: number, measure: (text: string) => number): string[] {
  // Nearly every word fits: only another is measured letter by letter.
  if (measure(word) <= width) return word === '' ? [] : [word];
  const parts = [''];
  for (const character of word) {
    const longer = parts.at(-1)! + character;
    if (measure(longer) > width && parts.at(-1) !== '') parts.push(character);
    else parts[parts.length - 1] = longer;
  }
  return parts.filter((part) => part !== '');
}
