import { shownNames } from '../base/wording.ts';
import type { Item } from './comparable.ts';
import type { Difference } from './difference.ts';
import { difference } from './difference.ts';
import { middleOf, wordItem } from './item-differences.ts';

/**
 * The things that are cut at another moment, sheet by sheet: as few as can explain the new order. The
 * others keep their order among each other, so they are a longest rising subsequence.
 */
export function orderDifferences(pairs: readonly (readonly [Item, Item])[]): Difference[] {
  const sheets = [...new Set(pairs.map(([, { sheet }]) => sheet))];
  return sheets.flatMap((sheet) => {
    const ranked = pairs
      .filter(
        ([a, b]) => a.sheet === sheet && b.sheet === sheet && a.rank !== null && b.rank !== null,
      )
      .toSorted(([a], [b]) => a.rank! - b.rank!);
    const kept = new Set(longestRise(ranked.map(([, b]) => b.rank!)));
    const others = ranked.filter((_, i) => !kept.has(i));
    if (others.length === 0) return [];
    const names = [...new Set(others.map(([, b]) => wordItem(b)))];
    const message = `the order of cutting is changed: ${others.length} of ${ranked.length} are cut at another moment: ${shownNames(names, 6)}.`;
    return [difference('order', { sheet, label: null }, message, { at: middleOf(others[0]![1]) })];
  });
}

/** The indexes of the values of a longest rising subsequence. */
export function longestRise(values: readonly number[]): number[] {
  const tails: number[] = [];
  const before: number[] = [];
  for (const [i, value] of values.entries()) {
    let [low, high] = [0, tails.length];
    while (low < high) {
      const middle = (low + high) >> 1;
      if (values[tails[middle]!]! < value) low = middle + 1;
      else high = middle;
    }
    before[i] = low === 0 ? -1 : tails[low - 1]!;
    tails[low] = i;
  }
  const found: number[] = [];
  for (let i = tails.at(-1) ?? -1; i !== -1; i = before[i]!) found.push(i);
  return found.toReversed();
}
