import { assemblies } from '../../handing/assemblies.ts';
import type { Part } from '../../handing/part.ts';
import { partTitle } from '../../handing/part-title.ts';
import { areaOf } from '../../geometry/paths/area.ts';
import type { OrderFacts } from './run-facts.ts';

/** One thing that leaves the bench, as the packer sees it. */
export interface PackedThing {
  /** What people call it: its largest carpet, or the part itself where it has no carpet. */
  readonly title: string;
  /** How many carpet parts are sewn together in it. 0: it goes loose. */
  readonly carpets: number;
  readonly parts: readonly PackedPart[];
}

interface PackedPart {
  readonly part: Part;
  readonly title: string;
  /** How a pad, board or underlay is fixed, in the words of its file. null: nobody said, or it is a carpet. */
  readonly fixed: string | null;
}

/** What leaves of one set of an order: what has carpet first, then what goes by itself. */
export function packedThings(facts: OrderFacts): PackedThing[] {
  const { content } = facts.set;
  const fixed = fixedByPart(facts);
  const things = assemblies(facts.parts, facts.bench).map((parts): PackedThing => {
    const carpets = parts.filter(({ kind }) => kind === 'piece');
    const [first = parts[0]!] = carpets.toSorted((a, b) => areaOf(b.net) - areaOf(a.net));
    return {
      title: partTitle(first, content),
      carpets: carpets.length,
      parts: parts.map((part) => ({
        part,
        title: partTitle(part, content),
        fixed: fixed.get(part.name) ?? null,
      })),
    };
  });
  const isLoose = ({ carpets }: PackedThing): number => (carpets === 0 ? 1 : 0);
  return things.toSorted((a, b) => isLoose(a) - isLoose(b));
}

/** How each pad, board and underlay is fixed to its carpet, by its name in the set. */
function fixedByPart({ bench }: OrderFacts): Map<string, string | null> {
  return new Map(
    [...bench.values()].flatMap(({ pads, under }) => [
      ...pads.flatMap(({ pad, fixed }): [string, string | null][] =>
        pad === null ? [] : [[pad, fixed]],
      ),
      ...under.map(({ part, fixed }): [string, string | null] => [part, fixed]),
    ]),
  );
}
