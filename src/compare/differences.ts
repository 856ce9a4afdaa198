import type { Comparable, Item } from './comparable.ts';
import type { Difference } from './difference.ts';
import { difference, inOrder, theWhole, wordPoint } from './difference.ts';
import { itemDifferences, middleOf, wordItem } from './item-differences.ts';
import { matchItems } from './match.ts';
import { orderDifferences } from './order-difference.ts';
import { factorDifference, scaled, unitsFactor } from './units-difference.ts';
import { textDifferences, wordDifferences } from './word-differences.ts';

/**
 * All differences of two inputs of the same kind, the gravest first. `tolerance` in mm. If the same
 * numbers were read in other units, that is told first, and then what differs besides.
 */
export function differencesOf(
  before: Comparable,
  after: Comparable,
  tolerance: number,
): Difference[] {
  const factor = unitsFactor(before, after);
  if (factor === null) return otherDifferences(before, after, tolerance);
  return [factorDifference(factor), ...otherDifferences(scaled(before, factor), after, tolerance)];
}

function otherDifferences(before: Comparable, after: Comparable, tolerance: number): Difference[] {
  const { pairs, removed, added } = matchItems(before.items, after.items, tolerance);
  const alone = (item: Item, kind: 'removed' | 'added'): Difference => {
    const at = middleOf(item);
    const verb = kind === 'removed' ? 'is gone; it was' : 'is new,';
    return difference(
      kind,
      { sheet: item.sheet, label: wordItem(item) },
      `${verb} at ${wordPoint(at)}.`,
      { at },
    );
  };
  return inOrder([
    ...removed.map((item) => alone(item, 'removed')),
    ...added.map((item) => alone(item, 'added')),
    ...pairs.flatMap(([a, b]) => itemDifferences(a, b, tolerance)),
    ...orderDifferences(pairs),
    ...wordDifferences(before.words, after.words, theWhole),
    ...textDifferences(before.texts, after.texts),
  ]);
}
