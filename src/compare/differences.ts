import { scaling } from '../geometry/paths/transform.ts';
import type { Comparable, Item } from './comparable.ts';
import type { Difference, Subject } from './difference.ts';
import { difference, theWhole, wordPoint } from './difference.ts';
import { itemDifferences, middleOf, wordItem } from './item-differences.ts';
import { layDifferences } from './lay-differences.ts';
import { matchItems } from './match.ts';
import type { Frame } from './moves-in-words.ts';
import { frameOf } from './moves-in-words.ts';
import { orderDifferences } from './order-difference.ts';
import { inRanks } from './ranks.ts';
import { commonFactor, factorDifference } from './scale.ts';
import { inputUnder, itemUnder, motionDifference, wholeMotion } from './whole-motion.ts';
import { textDifferences, wordDifferences } from './word-differences.ts';

/**
 * All differences of two inputs of the same kind, the gravest first. `tolerance` in mm. What has become of
 * everything together (a scale, a mirror, a turn, a move) is told first and once, and then what differs besides.
 */
export function differencesOf(
  before: Comparable,
  after: Comparable,
  tolerance: number,
): Difference[] {
  const factor = commonFactor(before, after, tolerance);
  if (factor === null) return inRanks(otherDifferences(before, after, tolerance));
  const larger = inputUnder(scaling(factor, factor), before);
  return inRanks([factorDifference(factor), ...otherDifferences(larger, after, tolerance)]);
}

type Pair = readonly [before: Item, after: Item];

function otherDifferences(before: Comparable, after: Comparable, tolerance: number): Difference[] {
  const { pairs, removed, added } = matchItems(before.items, after.items, tolerance);
  const frame = frameOf(after);
  const groups = groupsIn(pairs, after).map((group) => together(group, frame, tolerance));
  const moved = groups.flatMap(({ pairs: own }) => own);
  const word = (item: Item, other: Comparable): string => {
    const { order } = item.words;
    const isGone = order !== undefined && other.orders?.includes(order) === false;
    return isGone ? `with order ${order}` : '';
  };
  return [
    ...groups.flatMap(({ told }) => told),
    ...removed.map((item) => alone(item, 'removed', word(item, after))),
    ...added.map((item) => alone(item, 'added', word(item, before))),
    ...moved.flatMap(([a, b]) => itemDifferences({ before: a, after: b, tolerance, frame })),
    ...orderDifferences(pairs),
    ...layDifferences(before.lays ?? {}, after.lays ?? {}),
    ...wordDifferences(before.words, after.words, theWhole),
    ...textDifferences(before.texts, after.texts),
  ];
}

interface Group {
  readonly subject: Subject;
  readonly pairs: readonly Pair[];
}

/** What may have moved as one: each lay of a run; of anything else, all of it. */
function groupsIn(pairs: readonly Pair[], { kind }: Comparable): Group[] {
  if (kind !== 'run') return [{ subject: theWhole, pairs }];
  // A part that lies on another roll has moved by itself.
  const here = pairs.filter(([a, b]) => a.sheet === b.sheet);
  const sheets = [...new Set(here.map(([, { sheet }]) => sheet))];
  return [
    ...sheets.map((sheet) => ({
      subject: { sheet, label: null },
      pairs: here.filter(([a]) => a.sheet === sheet),
    })),
    { subject: theWhole, pairs: pairs.filter(([a, b]) => a.sheet !== b.sheet) },
  ];
}

/** What has become of a group as one, and its pairs as if that had not been. */
function together(
  { subject, pairs }: Group,
  frame: Frame,
  tolerance: number,
): { told: readonly Difference[]; pairs: readonly Pair[] } {
  const motion = wholeMotion(pairs, tolerance);
  if (motion === null) return { told: [], pairs };
  return {
    told: [motionDifference(motion, pairs, frame, subject, tolerance)],
    pairs: pairs.map(([a, b]) => [itemUnder(motion, a), b]),
  };
}

function alone(item: Item, kind: 'removed' | 'added', why: string): Difference {
  const at = middleOf(item);
  const subject = { sheet: item.sheet, label: wordItem(item) };
  const where = kind === 'removed' ? `; it was at ${wordPoint(at)}` : `, at ${wordPoint(at)}`;
  const verb = kind === 'removed' ? 'is gone' : 'is new';
  return difference(kind, subject, `${verb}${why === '' ? where : `, ${why}`}.`, { at });
}
