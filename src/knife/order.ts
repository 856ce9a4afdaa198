import type { Path } from '../geometry/path.ts';
import type { Point } from '../geometry/point.ts';
import { distance } from '../geometry/point.ts';
import { alongPath, pathLength } from '../geometry/path.ts';
import type { Part } from '../handing/part.ts';
import { insideOf } from '../lay/inside.ts';
import type { Lay } from '../lay/lay.ts';
import type { Bite, Cut } from './cuts.ts';
import type { Cutter } from './cutter.ts';
import type { Contour } from './passes.ts';
import { passesOf } from './passes.ts';
import { begunNear, begunOutOfSight } from './start.ts';

/**
 * Everything the knife cuts, bite by bite: the nearest part next, but one that lies in another's
 * cutout before that other; in a part its notches, its inner contours that the knife can follow, and
 * the outline last, so that nothing moves before all inside it is done.
 */
export function cuttingOrder(lay: Lay, parts: readonly Part[], cutter: Cutter): Bite[] {
  const hosts = insideOf(lay, parts);
  let knife: Point = { x: 0, y: 0 };
  return passesOf(lay, parts, cutter).map(({ start, contours }) => {
    // The knife stays over the same spot of the bed while the roll is fed under it.
    const cuts = cutsOfBite(contours, hosts, { x: knife.x + start, y: knife.y });
    const end = endOf(cuts.at(-1)!);
    knife = { x: end.x - start, y: end.y };
    return { start, cuts };
  });
}

function cutsOfBite(
  contours: readonly Contour[],
  hosts: ReadonlyMap<string, string>,
  knife: Point,
): Cut[] {
  const cuts: Cut[] = [];
  const groups = new Map<string, Contour[]>();
  for (const contour of contours) {
    groups.set(contour.label, [...(groups.get(contour.label) ?? []), contour]);
  }
  let waiting = [...groups].map(([label, own]) => ({ label, own }));
  let at = knife;
  while (waiting.length > 0) {
    const blocked = new Set(waiting.map(({ label }) => hosts.get(label)));
    const free = waiting.filter(({ label }) => !blocked.has(label));
    const next = nearest(free, at, ({ own }) => own.at(-1)!.path);
    cuts.push(...cutsOfPart(next.own, at));
    at = endOf(cuts.at(-1)!);
    waiting = waiting.filter((group) => group !== next);
  }
  return cuts;
}

function cutsOfPart(contours: readonly Contour[], knife: Point): Cut[] {
  const cuts: Cut[] = [];
  let at = knife;
  for (const kinds of [['notch', 'punch'], ['inner'], ['outline']]) {
    let waiting = contours.filter(({ kind }) => kinds.includes(kind));
    while (waiting.length > 0) {
      const next = nearest(waiting, at, ({ path }) => path);
      waiting = waiting.filter((one) => one !== next);
      cuts.push(begun(next, at));
      at = endOf(cuts.at(-1)!);
    }
  }
  return cuts;
}

function begun({ label, kind, path, edges, stretch }: Contour, knife: Point): Cut {
  if (stretch !== undefined) return { label, kind, path, stretch };
  if (kind === 'outline') return { label, kind, path: begunOutOfSight(path, edges, knife) };
  return { label, kind, path: path.closed ? begunNear(path, knife) : path };
}

/** The item with the nearest vertex; of equals the first. */
function nearest<T>(items: readonly T[], to: Point, pathOf: (item: T) => Path): T {
  const far = (item: T): number =>
    pathOf(item).vertices.reduce((least, v) => Math.min(least, distance(v, to)), Infinity);
  const distances = items.map(far);
  const best = distances.indexOf(Math.min(...distances));
  const item = items[best];
  if (item === undefined) throw new RangeError('parts lie in each other’s cutouts in a ring');
  return item;
}

/** Where the tip is left: a closed path ends where it began. */
function endOf({ path, stretch }: Cut): Point {
  if (stretch !== undefined) return alongPath(path, stretch.to % pathLength(path)).point;
  return path.closed ? path.vertices[0]! : path.vertices.at(-1)!;
}
