import { decimal } from './numbers.ts';

/** Lengths, times and names as a workshop reads them. */

/**
 * A length in mm as metres with two decimals. It is rounded up, so that it never promises less material
 * than is needed.
 */
export function metresUp(lengthMm: number): string {
  return `${(Math.ceil(lengthMm / 10 - 1e-9) / 100).toFixed(2)} m`;
}

/**
 * A length in mm as metres with two decimals, rounded down, so that never more cloth is said than there is.
 */
export function metresDown(lengthMm: number): string {
  return `${(Math.floor(lengthMm / 10 + 1e-9) / 100).toFixed(2)} m`;
}

/** A length in mm that is left, as it is booked: whole mm, rounded down. */
export function wholeMm(lengthMm: number): string {
  return `${Math.floor(lengthMm + 1e-9)} mm`;
}

export function percent(share: number): string {
  return `${(share * 100).toFixed(1)} %`;
}

/** Minutes as `1 h 05 min`, `12 min` or `under 1 min`. */
export function duration(minutes: number): string {
  if (minutes < 1) return 'under 1 min';
  const whole = Math.round(minutes);
  const hours = Math.floor(whole / 60);
  const rest = whole % 60;
  return hours === 0 ? `${rest} min` : `${hours} h ${String(rest).padStart(2, '0')} min`;
}

/** Minutes as minutes and seconds: `12:05`. */
export function clock(minutes: number): string {
  const seconds = Math.round(minutes * 60);
  return `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, '0')}`;
}

/** A text that begins with a capital. */
export function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}

/** The text if it has at most `letters` letters; otherwise its beginning and `…`, together that long. */
export function cutShort(text: string, letters: number): string {
  const all = [...text];
  return all.length <= letters ? text : `${all.slice(0, letters - 1).join('')}…`;
}

/**
 * A count and its word: `1 part`, `2 parts`. `several` is the plural of a word that does not just take an
 * s.
 */
export function counted(count: number, word: string, several = `${word}s`): string {
  return `${count} ${count === 1 ? word : several}`;
}

/** A word with its article: `a roll`, `an instance`. By its first letter, which is right for all words of the trade in use here. */
export function withArticle(word: string): string {
  return `${/^[aeiou]/i.test(word) ? 'an' : 'a'} ${word}`;
}

/** The words one after the other: `a`, `a and b`, `a, b and c`. */
export function listed(words: readonly string[]): string {
  const last = words.at(-1) ?? '';
  return words.length < 2 ? last : `${words.slice(0, -1).join(', ')} and ${last}`;
}

/** How lengths are written on the papers of a run: in mm and metres, with inches beside them on request. */
export interface LengthWords {
  /** A length in mm, in words: whole mm. */
  readonly mm: (length: number) => string;
  /** A length in mm, in words: metres, rounded up. */
  readonly metresUp: (length: number) => string;
  /** A length in mm that is there, in words: metres, rounded down. */
  readonly metresDown: (length: number) => string;
}

const inch = 25.4;

export function lengthWords(withInches: boolean): LengthWords {
  const plain = (length: number): string => `${decimal(length, 0)} mm`;
  if (!withInches) return { mm: plain, metresUp, metresDown };
  return {
    mm: (length) => `${plain(length)} (${decimal(length / inch, 2)} in)`,
    metresUp: (length) => `${metresUp(length)} (${feetWords(Math.ceil(length / inch - 1e-9))})`,
    metresDown: (length) =>
      `${metresDown(length)} (${feetWords(Math.floor(length / inch + 1e-9))})`,
  };
}

/** Whole inches as feet and inches: `59 ft 7 in`. */
function feetWords(inches: number): string {
  const feet = Math.floor(inches / 12);
  return feet === 0 ? `${inches} in` : `${feet} ft ${inches % 12} in`;
}

/**
 * Names in quotation marks as a list in a sentence: `"a", "b" and "c"`, or, of more than so many, the first
 * ones and how many more there are.
 */
export function quotedNames(names: readonly string[], most = 8): string {
  const quoted = names.map((name) => `"${name}"`);
  if (names.length <= most) return listed(quoted);
  return listed([...quoted.slice(0, most - 1), `${names.length - most + 1} more`]);
}

/** Names as a list in a sentence: all of them, or the first so many and how many more there are. */
export function shownNames(names: readonly string[], most = 8): string {
  const shown = names.slice(0, most).join(', ');
  return names.length > most ? `${shown} and ${names.length - most} more` : shown;
}

/** The first of several things that are said, and how many more there are: `a, and 2 more`. */
export function firstAndMore([first = '', ...others]: readonly string[]): string {
  return others.length === 0 ? first : `${first}, and ${others.length} more`;
}
