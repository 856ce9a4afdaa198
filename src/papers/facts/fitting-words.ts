import { capital, listed } from '../../base/wording.ts';
import type { LengthWords } from '../../base/wording.ts';
import type { UnderFacts } from '../../handing/bench-facts.ts';
import type { Edge, Part } from '../../handing/part.ts';
import { sidesOfEdges } from '../../handing/edges/edge-sides.ts';
import { isFixedOn } from '../../handing/fixing.ts';
import { carriersIn, coversNamed } from '../../handing/laying-order.ts';
import { partTitle } from '../../handing/part-title.ts';
import type { OrderFacts } from './run-facts.ts';
import { isOrdered } from './run-facts.ts';

/** How papers name other parts of an order, by their names in the set. */
export interface PartNaming {
  /** In a sentence: `3 Cab floor`, or that it is not in the order. */
  readonly named: (name: string) => string;
  /** The number of its step behind words that name it: ` (3)`. Empty: no numbers are shown. */
  readonly number: (name: string) => string;
}

/**
 * What finds, for a carpet part of an order, the sentences that the person who fits it must know: what it lies on,
 * what lies under it and on it, and where each of its edges goes. That it is sewn to others is said elsewhere.
 */
export function carpetWords(
  facts: OrderFacts,
  naming: PartNaming,
  lengths: LengthWords,
): (part: Part) => string[] {
  const carriers = carriersIn(facts.set, carpetsOf(facts));
  return (part) => wordsOfCarpet(part, carriers(part), facts, naming, lengths);
}

function wordsOfCarpet(
  part: Part,
  carriers: readonly Part[],
  facts: OrderFacts,
  naming: PartNaming,
  lengths: LengthWords,
): string[] {
  const { seams, unsewn, pads, under, wrap } = facts.bench.get(part.name)!;
  const sewn = new Set(seams.map(({ partner }) => partner));
  const below = carriers.filter(({ name }) => !sewn.has(name));
  const missing = seams.filter(({ partner }) => !isOrdered(facts, partner));
  return [
    ...sentence('Lies on', [...new Set(below.map(({ name }) => naming.named(name)))]),
    ...under.flatMap((one) => underWords(one, facts, naming)),
    ...missing.map(({ partner }) => {
      const title = titleOfPart(facts, partner);
      return `Its edge to ${title} is not sewn: ${title} is not in this order.`;
    }),
    ...unsewn.map(
      (length) => `An edge of ${lengths.mm(length)} is sewn to nothing in this vehicle.`,
    ),
    ...(wrap?.isBoardThere === false
      ? ['Its edges are not wrapped round a board: the board is not in this order.']
      : []),
    ...hiddenWords(part, facts, naming),
    ...pads.flatMap(({ pad, fixed }) => {
      if (pad === null) return [];
      if (!isOrdered(facts, pad))
        return ['Has a place for a heel pad, which is not in this order.'];
      return isFixedOn('pad', fixed) ? [] : [`Its heel pad${naming.number(pad)} lies on it.`];
    }),
  ];
}

/** The carpets of the whole set, as far as they are there with the options of an order. */
function carpetsOf({ parts, others }: OrderFacts): Part[] {
  return [...parts, ...others].filter(({ kind }) => kind === 'piece');
}

/** What people call a part of the set, by its name there. */
export function titleOfPart({ parts, others, set }: OrderFacts, name: string): string {
  const part = [...parts, ...others].find((one) => one.name === name);
  return part === undefined ? name : partTitle(part, set.content);
}

/** A sentence about other things; none if there are none. */
export function sentence(verb: string, names: readonly string[]): string[] {
  return names.length === 0 ? [] : [`${verb} ${listed(names)}.`];
}

/** What is fixed to a carpet before it leaves the shop needs no words. */
function underWords(
  { kind, part, fixed }: UnderFacts,
  facts: OrderFacts,
  { number }: PartNaming,
): string[] {
  if (!isOrdered(facts, part)) return [`Goes on its ${kind}, which is not in this order.`];
  return isFixedOn(kind, fixed) ? [] : [`Lies on its ${kind}${number(part)}.`];
}

/** What the edges of a kind that somebody hides are called, and what is done with them. */
const hiding = {
  tuck: { called: '', unsaid: 'Tuck * under what lies beside: the set does not say what.' },
  raw: { called: 'unfinished ', unsaid: '* must be covered: the set does not say by what.' },
} as const;

/** Sentences about the edges that go under something, one for each thing that hides some. */
function hiddenWords(part: Part, facts: OrderFacts, naming: PartNaming): string[] {
  const { wrap } = facts.bench.get(part.name)!;
  return (['tuck', 'raw'] as const).flatMap((kind) => {
    // What the bench has wrapped round the board is under nothing in the vehicle.
    if (wrap?.kind === kind) return [];
    const own = part.edges.filter((edge) => edge.kind === kind);
    const hiders = new Set(own.map(({ hiddenBy }) => hiddenBy));
    return [...hiders].map((hider) => {
      const edges = own.filter(({ hiddenBy }) => hiddenBy === hider);
      const { called, unsaid } = hiding[kind];
      const words = edgesCalled(edges, part.side, called);
      if (hider === undefined) return capital(unsaid.replace('*', words));
      const over = coversNamed(part, hider, carpetsOf(facts), facts.set.content);
      const numbers = numbersOf(over, facts, naming);
      const verb = words.endsWith('edges') ? 'go' : 'goes';
      return kind === 'tuck'
        ? `Tuck ${words} under ${hider}${numbers}.`
        : `${capital(words)} ${verb} under ${hider}${numbers}.`;
    });
  });
}

/** The numbers of what covers an edge, and what of it is not in the order: ` (3)`, ` (3; Sill, left is not in this order)`. */
function numbersOf(over: readonly Part[], facts: OrderFacts, { number }: PartNaming): string {
  const there = over.filter(({ name }) => isOrdered(facts, name));
  const missing = over.filter((one) => !there.includes(one));
  const said = [...new Set(there.map(({ name }) => number(name).replaceAll(/[ ()]/g, '')))];
  const titles = missing.map(({ name }) => titleOfPart(facts, name));
  const isOrAre = titles.length === 1 ? 'is' : 'are';
  const parts = [
    ...said.filter((one) => one !== ''),
    ...(titles.length === 0 ? [] : [`${listed(titles)} ${isOrAre} not in this order`]),
  ];
  return parts.length === 0 ? '' : ` (${parts.join('; ')})`;
}

/** Edges by the sides of the part on which they lie: `front and outer edges`, `all edges`. */
function edgesCalled(edges: readonly Edge[], side: Part['side'], called: string): string {
  const sides = sidesOfEdges(edges, side);
  if (sides.length === 4) return `all ${called}edges`;
  return `${called}${listed(sides)} ${sides.length === 1 ? 'edge' : 'edges'}`;
}
