/** The longest word that stands in one line of a comment: longer ones are broken. */
const longestWord = 78;

/**
 * The lines of a program, counted from 1, at which the first cut of each of these parts is announced, in the order of
 * the program. A program says in a comment before each stroke which part it is of.
 */
export function begunInProgram(
  text: string,
  labels: readonly string[],
): ReadonlyMap<string, number> {
  const known = new Map(labels.map((label) => [label.slice(0, longestWord), label]));
  const begun = new Map<string, number>();
  for (const [i, line] of text.split(/\r?\n/).entries()) {
    const word = /^(?:N\d+ *)?\(([^\s)]+)/.exec(line)?.[1];
    const label = word === undefined ? undefined : known.get(word);
    if (label !== undefined && !begun.has(label)) begun.set(label, i + 1);
  }
  return begun;
}
