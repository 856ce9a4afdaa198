import LineBreaker from 'linebreak';
import { lineWidth } from './label.ts';

/**
 * Divides a text into lines no wider than `width`, where the Unicode Line Breaking Algorithm (UAX #14) lets a
 * line end. A name with hyphens stays whole if it fits on a line, and is otherwise broken behind one of them;
 * only what has none is broken between any two letters. `measure` gives the width of a line; left out: lineWidth, whose unit
 * is the type's height.
 */
export function wrapped(
  text: string,
  width: number,
  measure: (line: string) => number = lineWidth,
): string[] {
  // Spaces that join two words, as before a unit, are not among these.
  const whole = text.replaceAll(/[^\S\u00A0\u202F]+/g, ' ').trim();
  if (whole === '') return [];
  // Nearly every text of a paper is one line: only others are measured piece by piece.
  if (measure(whole) <= width) return [whole];
  const lines: string[] = [];
  let line = '';
  for (const piece of piecesOf(whole).flatMap((one) => fitting(one, width, measure))) {
    const longer = line + piece;
    if (line !== '' && measure(longer.trimEnd()) > width) {
      lines.push(line.trimEnd());
      line = piece;
    } else line = longer;
  }
  return [...lines, line.trimEnd()];
}

/** What a line may end behind, though it had better not: a hyphen, a dash or a slash within a name. */
const withinName = /[\p{Pd}/]$/u;

/** A text at all places where a line may end, but for those within a name. Spaces stay at the ends of pieces. */
function piecesOf(text: string): string[] {
  const pieces: string[] = [];
  for (const piece of brokenAnywhere(text)) {
    if (withinName.test(pieces.at(-1) ?? '')) pieces[pieces.length - 1] += piece;
    else pieces.push(piece);
  }
  return pieces;
}

/** A text at all places where a line may end. */
function brokenAnywhere(text: string): string[] {
  const breaker = new LineBreaker(text);
  const pieces: string[] = [];
  let from = 0;
  for (let next = breaker.nextBreak(); next !== null; next = breaker.nextBreak()) {
    pieces.push(text.slice(from, next.position));
    from = next.position;
  }
  return pieces;
}

/** A piece in parts that each fit on a line. */
function fitting(piece: string, width: number, measure: (text: string) => number): string[] {
  const fits = (text: string): boolean => measure(text.trimEnd()) <= width;
  if (fits(piece)) return [piece];
  return brokenAnywhere(piece).flatMap((part) => (fits(part) ? [part] : lettersIn(part, fits)));
}

/** A word between any two of its letters. A mark stays with the letter that it stands on. */
function lettersIn(word: string, fits: (text: string) => boolean): string[] {
  const parts = [''];
  for (const letter of word.match(/[^\p{M}]\p{M}*|\p{M}+/gu)!) {
    const longer = parts.at(-1)! + letter;
    if (parts.at(-1) !== '' && !fits(longer)) parts.push(letter);
    else parts[parts.length - 1] = longer;
  }
  return parts;
}
