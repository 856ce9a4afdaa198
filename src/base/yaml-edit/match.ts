/** The label of a part, where an item of a list is one (a pin, or a part that is laid). */
export function partOf(item: unknown): string | null {
  return nameIn(item, 'part');
}

function keyOf(item: unknown): string {
  const part = partOf(item);
  if (part !== null) return `part ${part}`;
  const order = nameIn(item, 'order');
  return order === null ? JSON.stringify(item) : `order ${order}`;
}

function nameIn(item: unknown, key: 'part' | 'order'): string | null {
  if (typeof item !== 'object' || item === null || !(key in item)) return null;
  const name: unknown = (item as Readonly<Record<string, unknown>>)[key];
  return typeof name === 'string' ? name : null;
}

/**
 * An item of a list before (`from`) and after (`to`), by its numbers. `from` is null where it was
 * added, `to` where it is gone.
 */
interface Match {
  readonly from: number | null;
  readonly to: number | null;
}

/**
 * Which item of a list became which, in the order of the list: first those that are known again, as many
 * as keep their order; then, between two of them, what stands in the same place, as an order with another
 * name. A part never becomes another part.
 */
export function matchLists(before: readonly unknown[], after: readonly unknown[]): Match[] {
  const matches: Match[] = [];
  let [i, j] = [0, 0];
  const fill = (toI: number, toJ: number): void => {
    while (i < toI && j < toJ && partOf(before[i]) === null && partOf(after[j]) === null) {
      matches.push({ from: i++, to: j++ });
    }
    while (i < toI) matches.push({ from: i++, to: null });
    while (j < toJ) matches.push({ from: null, to: j++ });
  };
  for (const [from, to] of knownAgain(before.map(keyOf), after.map(keyOf))) {
    fill(from, to);
    matches.push({ from, to });
    [i, j] = [from + 1, to + 1];
  }
  fill(before.length, after.length);
  return matches;
}

/** The longest common subsequence of two lists of keys, as pairs of numbers. */
function knownAgain(before: readonly string[], after: readonly string[]): [number, number][] {
  const most = Math.min(before.length, after.length);
  let head = 0;
  while (head < most && before[head] === after[head]) head++;
  let tail = 0;
  while (tail < most - head && before.at(-1 - tail) === after.at(-1 - tail)) tail++;
  const [rows, columns] = [before.length - head - tail, after.length - head - tail];
  const lengths = Array.from({ length: rows + 1 }, () => new Uint16Array(columns + 1));
  const isSame = (i: number, j: number): boolean => before[head + i] === after[head + j];
  for (let i = rows - 1; i >= 0; i--) {
    for (let j = columns - 1; j >= 0; j--) {
      lengths[i]![j] = isSame(i, j)
        ? lengths[i + 1]![j + 1]! + 1
        : Math.max(lengths[i + 1]![j]!, lengths[i]![j + 1]!);
    }
  }
  const pairs: [number, number][] = [];
  for (let k = 0; k < head; k++) pairs.push([k, k]);
  for (let [i, j] = [0, 0]; i < rows && j < columns;) {
    if (isSame(i, j)) pairs.push([head + i++, head + j++]);
    else if (lengths[i + 1]![j]! >= lengths[i]![j + 1]!) i++;
    else j++;
  }
  for (let k = tail; k > 0; k--) pairs.push([before.length - k, after.length - k]);
  return pairs;
}
