import { listed } from '../../base/wording.ts';
import type { LengthWords } from '../../base/wording.ts';
import { areaOf } from '../../geometry/paths/area.ts';
import type { Laying } from '../../handing/laying-order.ts';
import { layingOrder } from '../../handing/laying-order.ts';
import type { Part } from '../../handing/part.ts';
import { partTitle } from '../../handing/part-title.ts';
import { strayPieces } from '../../handing/rules/sides-drawn.ts';
import { heapedPieces } from '../../handing/rules/stacked.ts';
import { shownNames } from '../../base/wording.ts';
import type { PartNaming } from './fitting-words.ts';
import { carpetWords, titleOfPart } from './fitting-words.ts';
import type { OrderFacts } from './run-facts.ts';
import { isOrdered } from './run-facts.ts';
import type { SiteJob } from './site-jobs.ts';
import { siteJobs } from './site-jobs.ts';

/** What is laid at once: a thing that is sewn or fixed together, or that of the left and that of the right. */
interface FittingStep {
  /** Counted from 1 in the order of laying; it stands on each of its carpets in the plan. */
  readonly number: number;
  readonly parts: readonly Part[];
  readonly title: string;
  /** What the person who fits it must know, in sentences. */
  readonly words: readonly string[];
}

/** All that the fitting sheet of an order says of its parts. */
export interface FittingGuide {
  readonly steps: readonly FittingStep[];
  readonly jobs: readonly SiteJob[];
  /** What the plan does not show as it is, in a sentence. null: it shows all pieces in their places. */
  readonly caution: string | null;
}

/** How an order goes into the vehicle, step by step. */
export function fittingGuide(facts: OrderFacts, lengths: LengthWords): FittingGuide {
  const { parts, bench, set } = facts;
  const things = withTwins(layingOrder(parts, bench, set));
  const numbers = new Map(
    things.flatMap((thing, i) => thing.map(({ name }) => [name, i + 1] as const)),
  );
  const numberOf = (name: string): number => numbers.get(name)!;
  const naming: PartNaming = {
    named: (name) => {
      const title = titleOfPart(facts, name);
      return isOrdered(facts, name)
        ? `${numberOf(name)} ${title}`
        : `${title}, which is not in this order`;
    },
    number: (name) =>
      numbers.has(name) ? ` (${numberOf(name)})` : ' (which is not in this order)',
  };
  const wordsOf = carpetWords(facts, naming, lengths);
  const steps = things.map((thing, i) => ({
    number: i + 1,
    parts: thing,
    title: thingTitle(thing, facts),
    words: thingWords(thing, facts, naming, wordsOf),
  }));
  return { steps, jobs: siteJobs(steps, set.content, lengths), caution: planCaution(facts) };
}

/**
 * Things one after the other that are left and right of the same, as one, unless one of them must be laid before the
 * other.
 */
function withTwins({ things, links }: Laying): Part[][] {
  const joined: Part[][] = [];
  for (const thing of things) {
    const last = joined.at(-1) ?? [];
    const isLinked = links.some(
      ({ lower, upper }) => last.includes(lower) && thing.includes(upper),
    );
    if (areTwins(last, thing) && !isLinked) last.push(...thing);
    else joined.push([...thing]);
  }
  return joined;
}

function areTwins(one: readonly Part[], other: readonly Part[]): boolean {
  const sideless = ({ name }: Part): string => name.replace(/-(?:left|right)(?=-\d+$|$)/, '');
  return (
    one.length === other.length &&
    one.every((part, i) => {
      const twin = other[i]!;
      const isMirrored = part.side !== null && twin.side !== null && part.side !== twin.side;
      return isMirrored && part.piece === twin.piece && sideless(part) === sideless(twin);
    })
  );
}

/** The carpets of a thing, the largest first: by it the thing is known. */
function carpetsIn(thing: readonly Part[]): Part[] {
  const carpets = thing.filter(({ kind }) => kind === 'piece');
  const main = carpets.toSorted((a, b) => areaOf(b.net) - areaOf(a.net))[0];
  return [...carpets].sort(
    (a, b) => Number(b.piece === main!.piece) - Number(a.piece === main!.piece),
  );
}

/** `Cab floor, with Toe board and Seat box front (left and right) sewn to it`. */
function thingTitle(thing: readonly Part[], { set: { content } }: OrderFacts): string {
  const carpets = carpetsIn(thing);
  const [main, ...sewn] = bySides(carpets.length === 0 ? thing : carpets).map((own) =>
    titleOfAll(own, content),
  );
  return sewn.length === 0 ? main! : `${main!}, with ${listed(sewn)} sewn to it`;
}

/** Parts that differ by their side alone, together. */
function bySides(parts: readonly Part[]): Part[][] {
  const pieces = [...new Set(parts.map(({ piece }) => piece))];
  return pieces.map((piece) => parts.filter((part) => part.piece === piece));
}

function titleOfAll(alike: readonly Part[], content: OrderFacts['set']['content']): string {
  const sides = alike.flatMap(({ side }) => side ?? []);
  if (alike.length === 1 || sides.length !== alike.length) {
    return listed(alike.map((part) => partTitle(part, content)));
  }
  const { piece, kind } = alike[0]!;
  return `${partTitle({ piece, kind, side: null, name: piece }, content)} (${listed(sides)})`;
}

function thingWords(
  thing: readonly Part[],
  facts: OrderFacts,
  { named }: PartNaming,
  wordsOf: (part: Part) => string[],
): string[] {
  const carpets = carpetsIn(thing);
  if (carpets.length === 0) {
    const said = thing.map(({ name, kind }) => {
      const carpet = named(facts.bench.get(name)!.carpet!);
      return kind === 'pad' ? `Lies on ${carpet}.` : `Goes under ${carpet}.`;
    });
    return [...new Set(said)];
  }
  const groups = bySides(carpets).flatMap((alike) => saidAlike(alike, wordsOf));
  const [only, ...more] = groups;
  if (more.length === 0) return [only!.words || 'Lies where the plan shows it.'];
  return groups
    .filter(({ words }) => words !== '')
    .map(({ parts, words }) => `${titleOfAll(parts, facts.set.content)}: ${words}`);
}

/** Parts of a piece, those together of which the same is said. */
function saidAlike(
  parts: readonly Part[],
  wordsOf: (part: Part) => string[],
): { parts: Part[]; words: string }[] {
  const said = parts.map((part) => ({ part, words: wordsOf(part).join(' ') }));
  const all = [...new Set(said.map(({ words }) => words))];
  return all.map((words) => ({
    parts: said.filter((one) => one.words === words).map(({ part }) => part),
    words,
  }));
}

function planCaution({ set }: OrderFacts): string | null {
  const unplaced = [...strayPieces(set).map(({ name }) => name), ...heapedPieces(set)];
  if (unplaced.length === 0) return null;
  const names = shownNames([...new Set(unplaced)]);
  return `The plan shows the pieces as the pattern is drawn, not where they lie in the vehicle: go by the side in each name (${names}).`;
}
