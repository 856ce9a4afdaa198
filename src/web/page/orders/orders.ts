import type { Order } from '../../../handing/order.ts';
import type { RollSheet, RunSheet } from '../../../run/run-file.ts';

/**
 * A name for a new order that no order of the run has: the name of the last one, with the number at its
 * end counted on.
 */
export function nextOrderName({ orders }: RunSheet): string {
  const taken = new Set(orders.map(({ order }) => order));
  const [, stem = '', digits = '0'] = /^(.*?)(\d*)$/.exec(orders.at(-1)?.order ?? '') ?? [];
  let number = Number(digits);
  let name: string;
  do {
    number += 1;
    name = `${stem}${String(number).padStart(digits.length, '0')}`;
  } while (taken.has(name));
  return name;
}

/**
 * The run with an order changed. Where its parts become others, what was pinned or laid of them is let
 * go; where it only becomes more or fewer sets, the rest stays.
 */
export function withOrder(sheet: RunSheet, at: number, next: Order): RunSheet {
  const before = sheet.orders[at]!;
  const orders = sheet.orders.map((order, i) => (i === at ? next : order));
  const isSame = (['order', 'set', 'hand', 'heelPads', 'boards', 'underlay'] as const).every(
    (key) => before[key] === next[key],
  );
  const kept = isSame ? next.quantity : 0;
  return { ...sheet, orders, rolls: withoutParts(sheet.rolls, before.order, kept) };
}

export function withoutOrder(sheet: RunSheet, at: number): RunSheet {
  const orders = sheet.orders.filter((_, i) => i !== at);
  return { ...sheet, orders, rolls: withoutParts(sheet.rolls, sheet.orders[at]!.order, 0) };
}

/**
 * The rolls without the parts of an order that lie on them, except those of its first so many sets.
 */
function withoutParts(rolls: RunSheet['rolls'], order: string, sets: number): RunSheet['rolls'] {
  const stays = ({ part }: { readonly part: string }): boolean => {
    // A label is name.set.order.
    const [, set, own] = /^.*\.(\d+)\.([^.]+)$/.exec(part) ?? [];
    return own !== order || Number(set) <= sets;
  };
  type Sheets = RunSheet['rolls'][string];
  const lean = (roll: RollSheet): RollSheet => ({
    ...roll,
    pins: roll.pins.filter(stays),
    laid: roll.laid.filter(stays),
  });
  return Object.fromEntries(
    Object.entries(rolls).map(([material, roll]): [string, Sheets] => [
      material,
      Array.isArray(roll) ? roll.map(lean) : lean(roll),
    ]),
  );
}
