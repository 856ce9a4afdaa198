const meanings: ReadonlyMap<string, boolean> = new Map([
  ['true', true],
  ['yes', true],
  ['false', false],
  ['no', false],
]);

/** What yes, no, true or false means, in large or small letters. undefined: it is another text. */
export function readYesNo(text: string): boolean | undefined {
  return meanings.get(text.toLowerCase());
}
