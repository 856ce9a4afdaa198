import type { Pin, RollEntry, RunContent } from '../../../run/run-file.ts';

/**
 * A run after a change of its orders: where one of them was only called otherwise, its parts stay where they are
 * pinned and laid. A part's label ends with its set and its order.
 */
export function withPartsRenamed(before: RunContent, after: RunContent): RunContent {
  const names = renamed(before, after);
  if (names === null) return after;
  const [from, to] = names;
  const moved = (pins: readonly Pin[]): Pin[] =>
    pins.map((pin) => ({ ...pin, part: labelOf(pin.part, from, to) }));
  const inRoll = (roll: RollEntry): RollEntry => ({
    ...roll,
    pins: moved(roll.pins),
    laid: moved(roll.laid),
  });
  const rolls = Object.entries(after.rolls).map(
    ([material, entries]) =>
      [
        material,
        Array.isArray(entries) ? entries.map(inRoll) : inRoll(entries as RollEntry),
      ] as const,
  );
  return { ...after, rolls: Object.fromEntries(rolls) };
}

/** The name of an order before and after, if it is the only one that changed its name, in its place. */
function renamed(
  { orders: before }: RunContent,
  { orders: after }: RunContent,
): readonly [string, string] | null {
  if (before.length !== after.length) return null;
  const changed = before.flatMap(({ order }, i) =>
    order === after[i]!.order ? [] : [[order, after[i]!.order] as const],
  );
  const [only, ...more] = changed;
  if (only === undefined || more.length > 0) return null;
  // A name that another order has already would put its parts onto those.
  return before.some(({ order }) => order === only[1]) ? null : only;
}

function labelOf(label: string, from: string, to: string): string {
  const end = `.${from}`;
  return label.endsWith(end) ? `${label.slice(0, -end.length)}.${to}` : label;
}
