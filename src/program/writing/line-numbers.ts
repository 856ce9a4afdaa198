/** Numbers go up by this, so that lines can be put in between. */
const step = 10;
/**
 * The highest number: a line number has five digits at most (NISTIR 6556, from memory). After it numbers
 * begin again.
 */
const highest = 99_990;

/** How many characters of a line its number takes. */
export const numberRoom = `N${highest} `.length;

/**
 * Puts `N10 `, `N20 ` and so on before lines that hold words. Comments get no number, nor do lines that
 * have one already.
 */
export function* numberedLines(lines: Iterable<string>): Generator<string> {
  let number = 0;
  for (const line of lines) {
    if (/^\s*([(N]|$)/i.test(line)) {
      yield line;
      continue;
    }
    number = number === highest ? step : number + step;
    yield `N${number} ${line}`;
  }
}
