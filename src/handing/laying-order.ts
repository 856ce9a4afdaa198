import type { Box } from '../geometry/paths/box.ts';
import { boxOfPoints, boxesOverlap } from '../geometry/paths/box.ts';
import { boxOfPath } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import { placeInPath } from '../geometry/relations/contains.ts';
import { roomiestPoint } from '../geometry/relations/interior.ts';
import { areaOf } from '../geometry/paths/area.ts';
import { piecesNamedIn } from '../pattern/pieces-named.ts';
import type { PatternSet } from '../pattern/set.ts';
import { assemblies } from './assemblies.ts';
import type { BenchFacts } from './bench-facts.ts';
import { heapedPieces } from './rules/stacked.ts';
import { strayPieces } from './rules/sides-drawn.ts';
import type { Part } from './part.ts';

/** That a part is laid before another one, and what says so. */
export interface LayingLink {
  /** What is laid first. */
  readonly lower: Part;
  readonly upper: Part;
  /**
   * `with`: one is the board, underlay or pad of the other; `on`: the upper is drawn as lying on the lower; `under`:
   * the set file says that an edge of the lower goes under the upper.
   */
  readonly why: 'with' | 'on' | 'under';
}

/** What is laid one after the other. */
export interface Laying {
  /** The things that leave the bench, each with its parts, in the order in which they are laid. */
  readonly things: readonly (readonly Part[])[];
  readonly links: readonly LayingLink[];
  /** Links that close a circle, so that not all of them can be followed. Empty: all are. */
  readonly circle: readonly LayingLink[];
}

/**
 * The order in which a set goes into the vehicle, from what lies under to what lies over: loose underlays and
 * boards first, then floors, then what stands beside; a thing that must lie under another one comes before it whatever
 * it is. Where nothing says the order, it is that of `parts`. These are those of one set that an order wants; `bench`
 * holds what the bench does with them, by their names.
 */
export function layingOrder(
  parts: readonly Part[],
  bench: ReadonlyMap<string, BenchFacts>,
  patterns: PatternSet,
): Laying {
  const things = assemblies(parts, bench);
  const thingOf = new Map(things.flatMap((thing, i) => thing.map((part) => [part, i] as const)));
  const links = linksOf(parts, bench, patterns).filter(
    ({ lower, upper }) => thingOf.get(lower) !== thingOf.get(upper),
  );
  const before = things.map((_, i) => links.filter(({ upper }) => thingOf.get(upper) === i));
  const carriers = new Set(links.flatMap(({ lower, why }) => (why === 'on' ? [lower] : [])));
  const ranks = things.map((thing) => rankOf(thing, bench, carriers));
  const wanted = things.map((_, i) => i).toSorted((a, b) => ranks[a]! - ranks[b]! || a - b);
  const { order, circle } = afterNeeds(
    wanted,
    before.map((own) => own.map(({ lower }) => thingOf.get(lower)!)),
  );
  return {
    things: order.map((i) => things[i]!),
    links,
    circle: circle.map(({ item, needs }) =>
      before[item]!.find(({ lower }) => thingOf.get(lower) === needs)!,
    ),
  };
}

/** Loose underlays and boards come first, then what has an underlay or carries something, then the rest. */
function rankOf(
  thing: readonly Part[],
  bench: ReadonlyMap<string, BenchFacts>,
  carriers: ReadonlySet<Part>,
): number {
  const carpets = thing.filter(({ kind }) => kind === 'piece');
  if (carpets.length === 0) return thing.some(({ kind }) => kind === 'pad') ? 2 : 0;
  const isFloor = carpets.some(
    (part) =>
      carriers.has(part) || bench.get(part.name)!.under.some(({ kind }) => kind === 'underlay'),
  );
  return isFloor ? 1 : 2;
}

/** All that says of two parts which is laid first. What the set file says outdoes what the drawing looks like. */
function linksOf(
  parts: readonly Part[],
  bench: ReadonlyMap<string, BenchFacts>,
  patterns: PatternSet,
): LayingLink[] {
  const carpets = parts.filter(({ kind }) => kind === 'piece');
  const under = carpets.flatMap((part) => underLinks(part, carpets, patterns));
  const isSaid = (one: Part, other: Part): boolean =>
    under.some(({ lower, upper }) => lower === one && upper === other);
  const carriers = carriersIn(patterns, carpets);
  const on = carpets.flatMap((part): LayingLink[] =>
    carriers(part).map((carrier) => ({ lower: carrier, upper: part, why: 'on' })),
  );
  return [
    ...parts.flatMap((part) => companionLinks(part, parts, bench)),
    ...under,
    ...on.filter(({ lower, upper }) => !isSaid(upper, lower)),
  ];
}

function companionLinks(
  part: Part,
  parts: readonly Part[],
  bench: ReadonlyMap<string, BenchFacts>,
): LayingLink[] {
  const owner = bench.get(part.name)!.carpet;
  const carpet = parts.find(({ name }) => name === owner);
  if (carpet === undefined) return [];
  return part.kind === 'pad'
    ? [{ lower: carpet, upper: part, why: 'with' }]
    : [{ lower: part, upper: carpet, why: 'with' }];
}

function underLinks(
  part: Part,
  carpets: readonly Part[],
  { content }: Pick<PatternSet, 'content'>,
): LayingLink[] {
  const hiders = new Set(part.edges.flatMap(({ hiddenBy }) => hiddenBy ?? []));
  const covers = [...hiders].flatMap((text) => coversNamed(part, text, carpets, content));
  return [...new Set(covers)].map((over) => ({ lower: part, upper: over, why: 'under' }));
}

/**
 * The carpets that a text means which says what hides an edge of a part, as far as they can be on the same side of
 * the vehicle.
 */
export function coversNamed(
  part: Part,
  text: string,
  carpets: readonly Part[],
  content: PatternSet['content'],
): Part[] {
  const named = piecesNamedIn(text, content);
  return carpets.filter(
    ({ piece, side }) =>
      piece !== part.piece &&
      named.includes(piece) &&
      (side === null || part.side === null || side === part.side),
  );
}

/**
 * What finds the larger of the carpets on which a part lies as a whole in the plan: the smallest that holds it alone,
 * or all that hold it together. It finds none where the drawing does not show where the pieces lie in the vehicle.
 */
export function carriersIn(patterns: PatternSet, carpets: readonly Part[]): (part: Part) => Part[] {
  const isInPlace = strayPieces(patterns).length === 0 && heapedPieces(patterns).length === 0;
  if (!isInPlace) return () => [];
  const known = carpets
    .map((part) => ({ part, box: boxOfPath(part.net), area: areaOf(part.net) }))
    .toSorted((a, b) => a.area - b.area);
  return (part) => {
    const [box, area] = [boxOfPath(part.net), areaOf(part.net)];
    const larger = known.filter(
      (one) => one.part.piece !== part.piece && one.area > area && boxesOverlap(one.box, box),
    );
    return larger.length === 0 ? [] : carriersOf(part, larger);
  };
}

function carriersOf(
  { net }: Part,
  larger: readonly { readonly part: Part; readonly box: Box }[],
): Part[] {
  const under = (point: Point): Part[] =>
    larger
      .filter(
        ({ part, box }) =>
          boxesOverlap(box, boxOfPoints([point])) && placeInPath(part.net, point) !== 'outside',
      )
      .map(({ part }) => part);
  const corners: Part[][] = [];
  for (const vertex of net.vertices) {
    const own = under(vertex);
    if (own.length === 0) return [];
    corners.push(own);
  }
  // A strip between two floors has all its corners on their edges.
  const middle = under(roomiestPoint(net, []).point);
  if (middle.length === 0) return [];
  const alone = middle.find((other) => corners.every((own) => own.includes(other)));
  return alone === undefined ? [...new Set([...corners.flat(), ...middle])] : [alone];
}

/** An item that needs another one before it. */
interface Need {
  readonly item: number;
  readonly needs: number;
}

/**
 * Items, each after all that it needs, and otherwise as they are wanted. Needs that close a circle are told, the
 * first circle alone, and one of them is not followed. `needs`: by item.
 */
export function afterNeeds(
  wanted: readonly number[],
  needs: readonly (readonly number[])[],
): { order: number[]; circle: Need[] } {
  const order: number[] = [];
  const done = new Set<number>();
  const way: number[] = [];
  let circle: Need[] = [];
  const place = (item: number): void => {
    if (done.has(item)) return;
    const begun = way.indexOf(item);
    if (begun >= 0) {
      const round = way.slice(begun);
      if (circle.length === 0) {
        circle = round.map((one, i) => ({ item: one, needs: round[i + 1] ?? item }));
      }
      return;
    }
    way.push(item);
    const own = new Set(needs[item]);
    for (const one of wanted) if (own.has(one)) place(one);
    way.pop();
    done.add(item);
    order.push(item);
  };
  for (const item of wanted) place(item);
  return { order, circle };
}
