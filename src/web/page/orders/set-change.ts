import type { Order } from '../../../handing/order.ts';
import type { Use } from '../../../pattern/words.ts';
import type { SetCard, Shop } from '../../api/shop.ts';
import { chosenFor } from '../../../handing/order-choices.ts';
import { coloursFor, edgeColour, withChosen, withEdge } from './choices.ts';

/** What became of an order that was given another set; it is told until another order is opened. */
export interface SetChange {
  /** The order before. */
  readonly before: Order;
  /** The order as the last change of its set left it. */
  readonly after: Order;
  /** What was dropped, a line for each change that dropped anything. */
  readonly lines: readonly string[];
}

/**
 * Gives an order another set. Where nothing else of it was changed since the last time, it is made of the
 * order as it first was, so that going through the sets of a list loses nothing.
 */
export function changeSet(
  order: Order,
  set: SetCard,
  shop: Shop,
  earlier: SetChange | null,
): SetChange {
  const isUntouched = earlier !== null && JSON.stringify(earlier.after) === JSON.stringify(order);
  const { order: after, dropped } = withSet(isUntouched ? earlier.before : order, set, shop);
  const line = `Dropped, as ${set.title} has no such: ${dropped.join('; ')}.`;
  return {
    before: earlier?.before ?? order,
    after,
    lines: [
      ...(isUntouched ? [] : (earlier?.lines ?? [])),
      ...(dropped.length === 0 ? [] : [line]),
    ],
  };
}

interface MovedOrder {
  readonly order: Order;
  /** What the set does not have of what the order said, in words. */
  readonly dropped: readonly string[];
}

/** The order of another set, with all that it says and that set has, too; nothing is filled in. */
export function withSet(order: Order, set: SetCard, shop: Shop): MovedOrder {
  if (order.set === set.name) return { order, dropped: [] };
  const steps = [withOptionsOf, withPiecesOf, withUsesOf, withEdgeOf];
  return steps.reduce<MovedOrder>(
    (moved, step) => {
      const next = step(moved.order, set, shop);
      return { order: next.order, dropped: [...moved.dropped, ...next.dropped] };
    },
    { order: { ...order, set: set.name }, dropped: [] },
  );
}

function withOptionsOf(order: Order, set: SetCard): MovedOrder {
  const { options: before = {}, ...others } = order;
  const said = Object.entries(before);
  const isKept = ([name, value]: (typeof said)[number]): boolean => {
    const card = set.options.find((one) => one.name === name);
    const values: readonly unknown[] = card?.values ?? [true, false];
    return card !== undefined && values.includes(value);
  };
  const kept = said.filter(isKept);
  const lost = said
    .filter((one) => !isKept(one))
    .map(([name, value]) => (typeof value === 'string' ? `${name} ${value}` : name));
  return {
    order: kept.length === 0 ? others : { ...others, options: Object.fromEntries(kept) },
    dropped: lost.length === 0 ? [] : [`${lost.length === 1 ? 'option' : 'options'} ${list(lost)}`],
  };
}

function withPiecesOf(order: Order, set: SetCard): MovedOrder {
  const { alone, without, ...others } = order;
  const [kept, left] = [alone ?? [], without ?? []].map((names) =>
    names.filter((name) => isNamed(name, set)),
  ) as [string[], string[]];
  const lost = [...(alone ?? []), ...(without ?? [])].filter((name) => !isNamed(name, set));
  const isWhole = alone !== undefined && kept.length === 0;
  const words = `${lost.length === 1 ? 'piece' : 'pieces'} ${lost.join(', ')}`;
  return {
    order: {
      ...others,
      ...(kept.length === 0 ? {} : { alone: kept }),
      ...(left.length === 0 ? {} : { without: left }),
    },
    dropped: lost.length === 0 ? [] : [isWhole ? `${words}, so that all are wanted` : words],
  };
}

/** Whether a name means a piece or a group of the set, or may mean a part of one of its pieces. */
function isNamed(name: string, { pieces, groups }: SetCard): boolean {
  if (Object.hasOwn(groups, name)) return true;
  return pieces.some(
    (piece) =>
      name === piece ||
      (name.startsWith(piece) &&
        /^(-(pad|board|underlay))?(-(left|right))?(-\d+)?$/.test(name.slice(piece.length))),
  );
}

function withUsesOf(order: Order, set: SetCard, shop: Shop): MovedOrder {
  const isThere: Readonly<Record<Use, boolean>> = {
    carpet: true,
    pad: set.pads.length > 0,
    board: set.hasBoards,
    underlay: set.hasUnderlay,
  };
  return (Object.keys(isThere) as Use[]).reduce<MovedOrder>(
    (moved, use) => {
      const { material, colour } = chosenFor(order, use);
      if (material === undefined && colour === undefined) return moved;
      const isChosen =
        material !== undefined &&
        isThere[use] &&
        set.materials[use].usual !== null &&
        shop.materials.some(({ name, uses }) => name === material && uses.includes(use));
      const bare = withChosen(moved.order, use, { material: '', colour: '' });
      const next = isChosen ? withChosen(bare, use, { material }) : bare;
      const isKept =
        isThere[use] && coloursFor(next, use, set, shop).some(({ name }) => name === colour);
      return {
        order: isKept ? withChosen(next, use, { colour: colour! }) : next,
        dropped: [
          ...moved.dropped,
          ...(material === undefined || isChosen ? [] : [`${use} of ${material}`]),
          ...(colour === undefined || isKept ? [] : [`${use} in ${colour}`]),
        ],
      };
    },
    { order, dropped: [] },
  );
}

function withEdgeOf(order: Order, set: SetCard, shop: Shop): MovedOrder {
  const finish = order.edge?.finish ?? '';
  const card = shop.finishes.find(({ name }) => name === finish);
  const isFinish = finish === '' || (set.finish !== null && card !== undefined);
  const kept = isFinish ? finish : '';
  const colours = kept === '' ? set.colours : card!.colours;
  const colour = edgeColour(order);
  const isColour = colour === '' || colours === null || colours.includes(colour);
  if (isFinish && isColour) return { order, dropped: [] };
  return {
    order: withEdge(order, kept, isColour ? colour : ''),
    dropped: [
      ...(isFinish ? [] : [`edges finished with ${finish}`]),
      ...(isColour ? [] : [`tape in ${colour}`]),
    ],
  };
}

/** Names in words: `late and console`. */
function list(names: readonly string[]): string {
  return names.length < 2
    ? names.join('')
    : `${names.slice(0, -1).join(', ')} and ${names.at(-1)!}`;
}
