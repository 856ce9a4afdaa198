import { lineWidth } from './label.ts';

/**
 * Text in lines no wider than `width`; what has no blank is broken where it must be. Widths are as `measure`
 * has them: where it is left out, shares of the type's size.
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
  const parts = [''];
  for (const character of word) {
    const longer = parts.at(-1)! + character;
    if (measure(longer) > width && parts.at(-1) !== '') parts.push(character);
    else parts[parts.length - 1] = longer;
  }
  return parts.filter((part) => part !== '');
}
