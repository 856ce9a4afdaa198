import { boxContains } from '../../geometry/paths/box.ts';
import { boxOfPath, pathLength } from '../../geometry/paths/path.ts';
import { placeInPath } from '../../geometry/relations/contains.ts';
import { roomiestPoint } from '../../geometry/relations/interior.ts';
import { areaOf } from '../../geometry/paths/area.ts';
import type { Part } from '../../handing/part.ts';
import { seamStep, unsewnStep, wordStep } from './next-steps.ts';
import type { OrderFacts } from './run-facts.ts';
import { isOrdered } from './run-facts.ts';
import type { LengthWords } from '../../base/wording.ts';

/** A carpet part on the fitting sheet. */
export interface FittedPart {
  /** The number that stands on it in the plan: counted from 1 in the order of the set file. */
  readonly number: number;
  readonly part: Part;
  /** What the person who fits it must know, in sentences. */
  readonly words: readonly string[];
}

/**
 * The carpet parts of an order, and how they go in, with their pads, boards and underlays. If numbers are
 * shown, other parts are named with their numbers.
 */
export function fittedParts(
  facts: OrderFacts,
  lengths: LengthWords,
  numbersShown = true,
): FittedPart[] {
  const { parts, others, bench } = facts;
  const carpets = parts.filter(({ kind }) => kind === 'piece');
  const wholeSet = [...parts, ...others].filter(({ kind }) => kind === 'piece');
  const numbers = new Map(carpets.map(({ name }, i) => [name, i + 1]));
  const named = (name: string): string => {
    const number = numbers.get(name);
    if (!isOrdered(facts, name)) return `${name}, which is not in this order`;
    return number === undefined || !numbersShown ? name : `${number} ${name}`;
  };
  const isThere = (name: string | null): boolean => name === null || isOrdered(facts, name);
  return carpets.map((part, i) => {
    const { seams, unsewn, pads, under } = bench.get(part.name)!;
    const below = liesOver(part, wholeSet);
    const sewn = seams.filter(({ partner }) => isThere(partner));
    const open = seams.filter(({ partner }) => !isThere(partner));
    return {
      number: i + 1,
      part,
      words: [
        ...(below === undefined ? [] : [`Lies on ${named(below.name)}.`]),
        ...under.flatMap(({ kind, part: name }) => {
          if (!isThere(name)) return [`Goes on its ${kind}, which is not in this order.`];
          return [kind === 'board' ? 'Is on its board.' : 'Lies on its underlay.'];
        }),
        ...joined('Is sewn to', [...new Set(sewn.map(({ partner }) => named(partner)))]),
        ...open.map((seam) => `${wordStep(seamStep(seam, facts))}.`),
        ...unsewn.map((length) => `${wordStep(unsewnStep(length, lengths))}.`),
        ...hidden(
          part,
          'tuck',
          'Tuck',
          'under',
          'what lies beside it (the set does not say what)',
          lengths,
        ),
        ...hidden(part, 'raw', 'Raw edge', 'goes under', 'something', lengths),
        ...pads.map(({ pad }) =>
          isThere(pad)
            ? 'Bears a heel pad.'
            : 'Has a place for a heel pad, which is not in this order.',
        ),
      ],
    };
  });
}

function joined(verb: string, names: readonly string[]): string[] {
  return names.length === 0 ? [] : [`${verb} ${names.join(' and ')}.`];
}

/** Sentences about the edges of a kind, one for each thing that hides some, with their length. */
function hidden(
  { edges }: Part,
  kind: 'tuck' | 'raw',
  verb: string,
  preposition: string,
  unsaid: string,
  { mm }: LengthWords,
): string[] {
  const byHider = new Map<string, number>();
  for (const edge of edges.filter((one) => one.kind === kind)) {
    const hider = edge.hiddenBy ?? unsaid;
    byHider.set(hider, (byHider.get(hider) ?? 0) + pathLength(edge.path));
  }
  return [...byHider].map(([hider, length]) => `${verb} (${mm(length)}) ${preposition} ${hider}.`);
}

/** The smallest of the larger parts on which a part lies as a whole in the plan. */
function liesOver(part: Part, parts: readonly Part[]): Part | undefined {
  const box = boxOfPath(part.net);
  const { point } = roomiestPoint(part.net, []);
  return parts
    .filter(
      (other) =>
        other !== part &&
        boxContains(boxOfPath(other.net), box) &&
        placeInPath(other.net, point) === 'inside' &&
        part.net.vertices.every((vertex) => placeInPath(other.net, vertex) !== 'outside'),
    )
    .toSorted((a, b) => areaOf(a.net) - areaOf(b.net))[0];
}
