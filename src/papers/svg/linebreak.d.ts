/**
 * The part of linebreak that is used: where the Unicode Line Breaking Algorithm (UAX #14) lets a line end. The
 * package has no types of its own.
 */
declare module 'linebreak' {
  export default class LineBreaker {
    constructor(text: string);
    /** The next place where a line may end, counted in UTF-16 units; null behind the end of the text. */
    nextBreak(): { readonly position: number; readonly required: boolean } | null;
  }
}
