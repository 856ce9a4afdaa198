import { heightOf, widthOf } from '../../geometry/paths/box.ts';
import { alongPath, boxOfPath, pathLength, segmentsOf } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { distance } from '../../geometry/paths/point.ts';
import { pointAt } from '../../geometry/paths/segment.ts';
import type { Part } from '../../handing/part.ts';
import { insideOf } from '../../lay/inside.ts';
import type { Lay } from '../../lay/lay.ts';
import type { Bite, Cut } from '../cuts.ts';
import type { Cutter } from '../cutter.ts';
import type { ContourToCut } from './passes.ts';
import { passesOf } from './passes.ts';
import type { Visit } from './route.ts';
import { route, smallFirst } from './route.ts';
import { allowedStarts, begunAt } from './start.ts';

/**
 * Everything that the knife cuts, bite by bite, with little travel between.
 *
 * A part's cuts stay together: first its notches, holes and inner contours, and its outline last, so that
 * it cannot move before all inside it is done. A part that lies in another part's cutout comes before
 * that part. Small parts come before large ones unless that costs more travel than smallFirst. Each
 * closed contour begins at the one of its allowed starts (see allowedStarts) that makes travel least.
 *
 * The idea: the best order depends on the starts that are chosen, and the best starts depend on the
 * order. So the two are found in turn, a few times, and the best result is kept.
 */
export function cuttingOrder(lay: Lay, parts: readonly Part[], cutter: Cutter): Bite[] {
  const hosts = insideOf(lay, parts);
  let knife: Point = { x: 0, y: 0 };
  return passesOf(lay, parts, cutter).map(({ start, contours }) => {
    // The knife stays where it is on the bed while the roll is fed under it.
    const from = { x: knife.x + start, y: knife.y };
    const chosen = orderedChoices(stopsOf(contours), hosts, from);
    const end = chosen.at(-1)?.end ?? from;
    knife = { x: end.x - start, y: end.y };
    return { start, cuts: chosen.map(({ cut }) => cut()) };
  });
}

/** One way to cut a contour: where the knife goes down and where it comes up. */
interface WayToCut {
  readonly begin: Point;
  readonly end: Point;
  readonly cut: () => Cut;
}

/** A contour with the ways to cut it, and the one that is chosen at present. */
interface ContourInOrder {
  readonly choices: readonly WayToCut[];
  taken: WayToCut;
}

/** What is cut of one part in a bite. `size` is the area of its box, mm2. */
interface Stop {
  readonly label: string;
  readonly size: number;
  /** Notches, holes and inner contours, in the order chosen at present. */
  inside: ContourInOrder[];
  /** The outline, or the stretches of it that are cut in this bite. */
  outline: ContourInOrder[];
}

/** How often an order is looked for, and then the starts for that order. */
const rounds = 3;

/** The ways to cut everything, in the order with the least travel that was found. */
function orderedChoices(
  stops: readonly Stop[],
  hosts: ReadonlyMap<string, string>,
  from: Point,
): WayToCut[] {
  let best: { choices: WayToCut[]; cost: number } | undefined;
  for (let round = 0; round < rounds; round++) {
    const order = orderOf(stops, hosts, from);
    orderWithin(order, from);
    const items = order.flatMap(({ inside, outline }) => [...inside, ...outline]);
    const choices = leastTravel(
      items.map((item) => item.choices),
      from,
    );
    for (const [i, item] of items.entries()) item.taken = choices[i]!;
    const cost = travelOf(choices, from) + smallFirst * stepsDown(order);
    if (best === undefined || cost < best.cost) best = { choices, cost };
  }
  return best?.choices ?? [];
}

function orderOf(stops: readonly Stop[], hosts: ReadonlyMap<string, string>, from: Point): Stop[] {
  const index = new Map(stops.map(({ label }, i) => [label, i]));
  const before = [...hosts].flatMap(([label, host]): [number, number][] => {
    const [first, then] = [index.get(label), index.get(host)];
    return first === undefined || then === undefined ? [] : [[first, then]];
  });
  const visits = stops.map(({ inside, outline, size }) => {
    const items = [...inside, ...outline];
    return { entry: items[0]!.taken.begin, exit: items.at(-1)!.taken.end, size };
  });
  return route({ visits, from, before }).map((i) => stops[i]!);
}

/** Orders the cuts within each stop, so that they lead from the stop before to its outline. */
function orderWithin(order: readonly Stop[], from: Point): void {
  let at = from;
  for (const stop of order) {
    const to = stop.outline[0]?.taken.begin;
    stop.inside = routed(stop.inside, at, to);
    at = stop.inside.at(-1)?.taken.end ?? at;
    stop.outline = routed(stop.outline, at);
    at = stop.outline.at(-1)?.taken.end ?? at;
  }
}

function routed(items: readonly ContourInOrder[], from: Point, to?: Point): ContourInOrder[] {
  const visits = items.map(({ taken }): Visit => ({
    entry: taken.begin,
    exit: taken.end,
    size: 0,
  }));
  const round = { visits, from, before: [], ...(to === undefined ? {} : { to }) };
  return route(round).map((i) => items[i]!);
}

/**
 * Chooses one way to cut from each list, so that the travel in between is least. This is the shortest
 * path through layers: for each way of a layer, the cheapest way to reach it from the layer before is
 * kept.
 */
function leastTravel(layers: readonly (readonly WayToCut[])[], from: Point): WayToCut[] {
  const start: BestSoFar = { cost: 0, end: from, way: undefined };
  let reached: BestSoFar[] = [start];
  for (const layer of layers) {
    reached = layer.map((choice): BestSoFar => {
      let [best, least] = [reached[0]!, Infinity];
      for (const one of reached) {
        const cost = one.cost + distance(one.end, choice.begin);
        if (cost < least) [best, least] = [one, cost];
      }
      return { cost: least, end: choice.end, way: { choice, before: best } };
    });
  }
  let last = reached.reduce((a, b) => (b.cost < a.cost ? b : a));
  const choices: WayToCut[] = [];
  while (last.way !== undefined) {
    choices.push(last.way.choice);
    last = last.way.before;
  }
  return choices.reverse();
}

interface BestSoFar {
  readonly cost: number;
  readonly end: Point;
  readonly way: { readonly choice: WayToCut; readonly before: BestSoFar } | undefined;
}

function travelOf(choices: readonly WayToCut[], from: Point): number {
  return choices.reduce(
    (sum, { begin }, i) => sum + distance(i === 0 ? from : choices[i - 1]!.end, begin),
    0,
  );
}

function stepsDown(order: readonly Stop[]): number {
  return order.filter(({ size }, i) => i > 0 && size < order[i - 1]!.size * (1 - 1e-9)).length;
}

/** The contours grouped by part. Stops stand in the order in which their parts first occur. */
function stopsOf(contours: readonly ContourToCut[]): Stop[] {
  const stops = new Map<string, ContourToCut[]>();
  for (const contour of contours) {
    const own = stops.get(contour.label);
    if (own === undefined) stops.set(contour.label, [contour]);
    else own.push(contour);
  }
  return [...stops].map(([label, own]) => {
    const items = (isOutline: boolean): ContourInOrder[] =>
      own.filter(({ kind }) => (kind === 'outline') === isOutline).map(itemOf);
    const outline = own.find(({ kind }) => kind === 'outline') ?? own[0]!;
    const box = boxOfPath(outline.path);
    const size = widthOf(box) * heightOf(box);
    return { label, size, inside: items(false), outline: items(true) };
  });
}

function itemOf(contour: ContourToCut): ContourInOrder {
  const choices = choicesOf(contour);
  return { choices, taken: choices[0]! };
}

function choicesOf({ label, kind, path, edges, stretch }: ContourToCut): WayToCut[] {
  if (stretch !== undefined) {
    const length = pathLength(path);
    const place = (along: number): Point =>
      alongPath(path, ((along % length) + length) % length).point;
    const [begin, end] = [place(stretch.from), place(stretch.to)];
    return [{ begin, end, cut: () => ({ label, kind, path, stretch }) }];
  }
  if (!path.closed) {
    const [begin, end] = [path.vertices[0]!, path.vertices.at(-1)!];
    return [{ begin, end, cut: () => ({ label, kind, path }) }];
  }
  const segments = segmentsOf(path);
  return allowedStarts(path, edges).map((station) => {
    const at = pointAt(segments[station.segment]!, station.t);
    return { begin: at, end: at, cut: () => ({ label, kind, path: begunAt(path, station) }) };
  });
}
