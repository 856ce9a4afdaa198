import { chosenFor, edgeColourOf } from '../../../handing/order-choices.ts';
import type { Order } from '../../../handing/order.ts';
import type { OptionValue } from '../../../pattern/conditions.ts';
import type { Use } from '../../../pattern/words.ts';
import type { MaterialCard, OptionCard, SetCard, Shop } from '../../api/shop.ts';

/** What an order chooses of its set, changed. What an order says no more is not written at all. */

/** What is chosen for a use. */
interface Chosen {
  readonly material?: string;
  readonly colour?: string;
}

/** The order with another material or colour for a use; an empty text: it is not said. */
export function withChosen(order: Order, use: Use, change: Chosen): Order {
  const chosen = withoutEmpty({ ...chosenFor(order, use), ...change });
  const { [use]: _, ...others } = order;
  // The underlay alone may also be wanted without saying which.
  const silent = use === 'underlay' ? { underlay: true } : {};
  return {
    ...others,
    ...silent,
    ...(Object.keys(chosen).length === 0 ? {} : { [use]: chosen }),
  } as Order;
}

/** The materials that a use of an order is cut from. */
export function materialsFor(
  order: Order,
  use: Use,
  set: SetCard,
  { materials }: Pick<Shop, 'materials'>,
): MaterialCard[] {
  const { usual, fixed } = set.materials[use];
  const names = new Set([chosenFor(order, use).material ?? usual, ...fixed]);
  return materials.filter(({ name }) => names.has(name));
}

/** The colours in which an order can have a use: those of each material that it is cut from. */
export function coloursFor(
  order: Order,
  use: Use,
  set: SetCard,
  shop: Pick<Shop, 'materials'>,
): NonNullable<MaterialCard['colours']> {
  const all = materialsFor(order, use, set, shop).flatMap(({ colours }) => colours ?? []);
  return all.filter(({ name }, i) => all.findIndex((one) => one.name === name) === i);
}

/** The order with a use cut from another material, and without a colour that it is not kept in. */
export function withMaterial(
  order: Order,
  use: Use,
  material: string,
  set: SetCard,
  shop: Pick<Shop, 'materials'>,
): Order {
  const next = withChosen(order, use, { material });
  const { colour } = chosenFor(next, use);
  const isKept = coloursFor(next, use, set, shop).some(({ name }) => name === colour);
  return colour === undefined || isKept ? next : withChosen(next, use, { colour: '' });
}

/** The value of an option: what the order says, or what the set says. */
export function optionValue({ options = {} }: Order, { name, usual }: OptionCard): OptionValue {
  return options[name] ?? usual;
}

/** The order with an option of another value; the usual one is not written. */
export function withOption(order: Order, { name, usual }: OptionCard, value: OptionValue): Order {
  const { options: before = {}, ...others } = order;
  const { [name]: _, ...rest } = before;
  const options = value === usual ? rest : { ...rest, [name]: value };
  return Object.keys(options).length === 0 ? others : { ...others, options };
}

/** The colour in which edges are finished; empty: it is not said. */
export function edgeColour(order: Order): string {
  return edgeColourOf(order) ?? '';
}

/** The order with its edges finished otherwise. The old key `binding` stays where it says enough. */
export function withEdge(order: Order, finish: string, colour: string): Order {
  const { edge, binding: _, ...others } = order;
  if (edge === undefined && finish === '') {
    return colour === '' ? others : { ...others, binding: colour };
  }
  const next = withoutEmpty({ finish, colour });
  return Object.keys(next).length === 0 ? others : { ...others, edge: next };
}

/** The order with one of its texts changed; an empty one is not written. */
export function withText(
  order: Order,
  key: 'thread' | 'customer' | 'due' | 'benchNote' | 'customerNote',
  text: string,
): Order {
  const { [key]: _, ...others } = order;
  return text === '' ? others : { ...others, [key]: text };
}

function withoutEmpty<T extends object>(values: T): Partial<T> {
  return Object.fromEntries(
    Object.entries(values).filter(([, value]) => value !== '' && value !== undefined),
  ) as Partial<T>;
}
