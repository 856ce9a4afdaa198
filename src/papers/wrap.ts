import { lineWidth } from './label.ts';

/** Text in lines no wider than `width`, a share of the type's size; what has no blank is broken where it must be. */
export function wrapped(text: string, width: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(/\s+/).flatMap((one) => broken(one, width))) {
    const longer = line === '' ? word : `${line} ${word}`;
    if (lineWidth(longer) > width && line !== '') {
      lines.push(line);
      line = word;
    } else line = longer;
  }
  return line === '' ? lines : [...lines, line];
}

function broken(word: string, width: number): string[] {
  const parts = [''];
  for (const character of word) {
    const longer = parts.at(-1)! + character;
    if (lineWidth(longer) > width && parts.at(-1) !== '') parts.push(character);
    else parts[parts.length - 1] = longer;
  }
  return parts.filter((part) => part !== '');
}
