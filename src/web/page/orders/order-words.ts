import type { Order } from '../../../handing/order.ts';
import type { Use } from '../../../pattern/words.ts';
import type { OptionCard, SetCard, Shop } from '../../api/shop.ts';
import { chosenFor } from '../../../handing/order-choices.ts';
import { edgeColour, optionValue } from './choices.ts';
import { hasPad } from './pieces.ts';
import type { OrderTraits } from './sorting.ts';

/**
 * What tells an order from others of its set, in few words: its carpet and edges, what differs from what is
 * usual, which part of the set it is, day and customer. `known`: what it is grouped by.
 */
export function lineFacts(
  order: Order,
  set: SetCard | undefined,
  shop: Pick<Shop, 'materials' | 'finishes'>,
  known: OrderTraits,
): string[] {
  const { alone, without, due, customer } = order;
  return [
    ...carpetFacts(order, known),
    ...edgeFacts(order, shop),
    ...(set === undefined ? [] : [...padFacts(order, set, shop), ...optionFacts(order, set)]),
    ...(alone === undefined ? [] : [`only ${alone.join(' and ')}`]),
    ...(without === undefined ? [] : [`without ${without.join(' and ')}`]),
    ...(set?.hasBoards === true && !order.boards ? ['without boards'] : []),
    ...(set?.hasUnderlay === true && order.underlay === false ? ['without underlay'] : []),
    ...(due === undefined ? [] : [`due ${due}`]),
    ...(customer === undefined ? [] : [customer]),
  ];
}

function carpetFacts(order: Order, { colour, quality }: OrderTraits): string[] {
  const isUsual = chosenFor(order, 'carpet').material === undefined;
  const words = [...(isUsual ? [] : [quality]), ...(colour === null ? [] : [colour])];
  return words.length === 0 ? [] : [words.join(' ')];
}

function edgeFacts(order: Order, { finishes }: Pick<Shop, 'finishes'>): string[] {
  const finish = order.edge?.finish;
  const colour = edgeColour(order);
  if (finish === undefined) return colour === '' ? [] : [`tape ${colour}`];
  const title = finishes.find(({ name }) => name === finish)?.title ?? finish;
  return [`edges ${title}${colour === '' ? '' : ` ${colour}`}`];
}

const padWords = { driver: 'pad for the driver', both: 'pads on both sides', none: 'no pads' };

function padFacts(order: Order, set: SetCard, shop: Pick<Shop, 'materials'>): string[] {
  const { heelPads } = order;
  const isThere = hasPad(heelPads === 'none' ? { ...order, heelPads: 'both' } : order, set);
  if (!isThere) return [];
  const said = heelPads === 'none' ? '' : chosenWords(order, 'pad', shop);
  return [said === '' ? padWords[heelPads] : `${padWords[heelPads]} in ${said}`];
}

/** The material and the colour that an order says for a use. */
function chosenWords(order: Order, use: Use, { materials }: Pick<Shop, 'materials'>): string {
  const { material, colour } = chosenFor(order, use);
  const title = materials.find(({ name }) => name === material)?.title ?? material;
  return [title, colour].filter((one) => one !== undefined).join(' ');
}

function optionFacts(order: Order, { options }: SetCard): string[] {
  return options
    .filter((option) => optionValue(order, option) !== option.usual)
    .map((option) => wordOption(option, optionValue(order, option)));
}

function wordOption({ words }: OptionCard, value: OptionCard['usual']): string {
  if (typeof value === 'string') return `${words} ${value}`;
  return value ? words : `no ${words}`;
}
