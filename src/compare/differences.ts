import { shownNames } from '../base/wording.ts';
import type { Comparable, Item } from './comparable.ts';
import { areStrangers } from './comparable.ts';
import type { Difference, Subject } from './difference.ts';
import { difference, theWhole, wordPoint } from './difference.ts';
import { itemDifferences, middleOf, wordItem } from './item-differences.ts';
import { layDifferences } from './lay-differences.ts';
import type { Matched } from './match.ts';
import { matchItems } from './match.ts';
import type { MoveFrame } from './moves-in-words.ts';
import { moveFrameOf } from './moves-in-words.ts';
import { orderDifferences } from './order-difference.ts';
import { inRanks } from './ranks.ts';
import { commonFactor, factorDifference, scaledInput, withoutNames } from './scale.ts';
import { itemUnder, motionDifference, wholeMotion } from './whole-motion.ts';
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
  if (areStrangers(before, after)) {
    // Orders that only have other names have the same parts.
    const renamed = otherDifferences(before, after, tolerance);
    if (!renamed.some(isOfOtherParts)) return inRanks(renamed);
    const [one, other] = [before, after].map((input): Comparable => ({ ...input, items: [] }));
    return inRanks([strangers(before, after), ...otherDifferences(one!, other!, tolerance)]);
  }
  const factor = commonFactor(before, after, tolerance);
  if (factor === null) return inRanks(otherDifferences(before, after, tolerance));
  const [larger, now] = [scaledInput(factor, before, after), after].map(withoutNames);
  return inRanks([factorDifference(factor), ...otherDifferences(larger!, now!, tolerance)]);
}

/** Whether a difference shows that parts of two runs are not the same ones. */
function isOfOtherParts({ kind, label }: Difference): boolean {
  return label !== null && ['removed', 'added', 'mirrored', 'outline', 'detail'].includes(kind);
}

/** Parts of orders that have nothing to do with each other are counted and not matched. */
function strangers(before: Comparable, after: Comparable): Difference {
  const count = ({ items }: Comparable): number =>
    items.filter(({ what }) => what === 'part').length;
  const message = `no part is of an order that both have: ${count(before)} before, ${count(after)} now.`;
  return difference('removed', theWhole, message);
}

type Pair = readonly [before: Item, after: Item];

function otherDifferences(before: Comparable, after: Comparable, tolerance: number): Difference[] {
  const frame = moveFrameOf(after);
  const whole = together(before, after, frame, tolerance);
  const { pairs, removed, added } = whole.matched;
  const word = (item: Item, other: Comparable): string => {
    const { order } = item.words;
    const isGone = order !== undefined && other.orders?.includes(order) === false;
    return isGone ? `with order ${order}` : '';
  };
  const gone = removed.map((item) => whole.origin.get(item) ?? item);
  return [
    ...whole.told,
    ...gone.map((item) => alone(item, 'removed', word(item, after))),
    ...added.map((item) => alone(item, 'added', word(item, before))),
    ...pairs.flatMap(([a, b]) => itemDifferences({ before: a, after: b, tolerance, frame })),
    ...orderDifferences(pairs),
    ...layDifferences(before.lays ?? {}, after.lays ?? {}),
    ...wordDifferences(before.words, after.words, theWhole),
    ...textDifferences(before.texts, after.texts),
    ...sourceDifferences(before.sources ?? {}, after.sources ?? {}),
  ];
}

/** Files of one name that said something else when the one and the other was made: papers may differ because of it. */
function sourceDifferences(
  before: Readonly<Record<string, string>>,
  after: Readonly<Record<string, string>>,
): Difference[] {
  const changed = Object.keys(before).filter(
    (file) => after[file] !== undefined && after[file] !== before[file],
  );
  if (changed.length === 0) return [];
  const message = `made from files that were changed in between: ${shownNames(changed)}. Sewing, fitting and cost sheets may say something else.`;
  return [difference('words', theWhole, message)];
}

/** What has become of all or of whole lays, and what is which as if that had not been. */
interface Together {
  readonly told: readonly Difference[];
  readonly matched: Matched;
  /** The things as they were before they were taken along. */
  readonly origin: ReadonlyMap<Item, Item>;
}

function together(
  before: Comparable,
  after: Comparable,
  frame: MoveFrame,
  tolerance: number,
): Together {
  const first = matchItems(before.items, after.items, tolerance);
  const groups = groupsIn(first.pairs, after).flatMap(({ subject, pairs }) => {
    const motion = wholeMotion(pairs, tolerance);
    return motion === null ? [] : [{ subject, motion }];
  });
  if (groups.length === 0) return { told: [], matched: first, origin: new Map() };
  const origin = new Map<Item, Item>();
  const moved = before.items.map((item) => {
    const group = groups.find(({ subject }) => isIn(item, subject));
    if (group === undefined) return item;
    const one = itemUnder(group.motion, item);
    origin.set(one, item);
    return one;
  });
  // Of several things with one name it shows only now which is which.
  const matched = matchItems(moved, after.items, tolerance);
  const told = groups.map(({ subject, motion }) => {
    const own = matched.pairs.filter(([a]) => isIn(a, subject));
    return motionDifference(motion, own, frame, subject, tolerance);
  });
  return { told, matched, origin };
}

/** What may have moved as one: each lay of a run; of anything else, all of it. */
function groupsIn(
  pairs: readonly Pair[],
  { kind }: Comparable,
): { subject: Subject; pairs: readonly Pair[] }[] {
  if (kind !== 'run') return [{ subject: theWhole, pairs }];
  // A part that lies on another roll has moved by itself.
  const here = pairs.filter(([a, b]) => a.sheet === b.sheet);
  const sheets = [...new Set(here.map(([, { sheet }]) => sheet))];
  return sheets.map((sheet) => ({
    subject: { sheet, label: null },
    pairs: here.filter(([a]) => a.sheet === sheet),
  }));
}

function isIn({ sheet }: Item, subject: Subject): boolean {
  return subject.sheet === null || subject.sheet === sheet;
}

function alone(item: Item, kind: 'removed' | 'added', why: string): Difference {
  const at = middleOf(item);
  const subject = { sheet: item.sheet, label: wordItem(item) };
  const where = kind === 'removed' ? `; it was at ${wordPoint(at)}` : `, at ${wordPoint(at)}`;
  const verb = kind === 'removed' ? 'is gone' : 'is new';
  return difference(kind, subject, `${verb}${why === '' ? where : `, ${why}`}.`, { at });
}
