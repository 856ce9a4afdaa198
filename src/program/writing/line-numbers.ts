/** Numbers go up by this, so that a line can be put between. */
const step = 10;
/** NISTIR 6556, from memory: a line number has five digits at most. Numbers may come again. */
const highest = 99_990;

/** Characters that a number takes of its line. */
export const numberRoom = `N${highest} `.length;

/** Lines with `N10 `, `N20 ` before those that hold words; comments have none, nor have lines numbered by their author. */
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
