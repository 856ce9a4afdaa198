/** Numbers go up by this, so that a line can be put between. */
const step = 10;
/** NISTIR 6556, from memory: a line number has five digits at most. Numbers may come again. */
const highest = 99_990;

/** Lines with `N10 `, `N20 ` before those that hold words; comments have none. */
export function* numberedLines(lines: Iterable<string>): Generator<string> {
  let number = 0;
  for (const line of lines) {
    if (line.startsWith('(')) {
      yield line;
      continue;
    }
    number = number === highest ? step : number + step;
    yield `N${number} ${line}`;
  }
}
