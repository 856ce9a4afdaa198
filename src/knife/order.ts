import { boxOfPath } from '../geometry/box.ts';
import type { Path } from '../geometry/path.ts';
import { polyline } from '../geometry/path.ts';
import type { Point } from '../geometry/point.ts';
import { distance } from '../geometry/point.ts';
import { transformPath } from '../geometry/transform.ts';
import type { Edge, Part } from '../handing/part.ts';
import type { Reach } from '../lay/bites.ts';
import { bitesOf } from '../lay/bites.ts';
import { insideOf } from '../lay/inside.ts';
import type { Lay } from '../lay/lay.ts';
import { placementTransform } from '../lay/lay.ts';
import { isCuttable } from './cuttable.ts';
import type { Cutter } from './cutter.ts';
import type { Bite, Cut, CutKind } from './cuts.ts';
import { begunNear, begunOutOfSight } from './start.ts';

/** A part where it lies, in the lay's frame. */
interface LaidPart extends Reach {
  readonly label: string;
  readonly outline: Path;
  readonly inner: readonly Path[];
  readonly notches: readonly Path[];
  readonly edges: readonly Edge[];
}

/**
 * Everything the knife cuts, bite by bite: the nearest part next, but one that lies in another's
 * cutout before that other; in a part its notches, its inner contours that the knife can follow, and
 * the outline last, so that nothing moves before all inside it is done.
 */
export function cuttingOrder(lay: Lay, parts: readonly Part[], cutter: Cutter): Bite[] {
  const hosts = insideOf(lay, parts);
  let knife: Point = { x: 0, y: 0 };
  const bites = bitesOf(laidParts(lay, parts, cutter), lay.rules.biteLength);
  return bites.map(({ start, items }) => {
    // The knife stays over the same spot of the bed while the roll is fed under it.
    const cuts = cutsOfBite(items, hosts, { x: knife.x + start, y: knife.y });
    const end = lastPoint(cuts);
    knife = { x: end.x - start, y: end.y };
    return { start, cuts };
  });
}

function laidParts(lay: Lay, parts: readonly Part[], cutter: Cutter): LaidPart[] {
  const byLabel = new Map(parts.map((part) => [part.label, part]));
  return lay.placements.map((placement) => {
    const part = byLabel.get(placement.label);
    if (part === undefined) throw new RangeError(`no part ${placement.label} for its placement`);
    const transform = placementTransform(placement);
    const place = (path: Path): Path => transformPath(transform, path);
    const outline = place(part.cut);
    const { minX, maxX } = boxOfPath(outline);
    return {
      label: part.label,
      minX,
      maxX,
      outline,
      inner: part.inner
        .filter(({ path }) => isCuttable(path, cutter))
        .map(({ path }) => place(path)),
      notches: part.notches.map(({ from, to }) => place(polyline([from, to], false))),
      edges: part.edges.map((edge) => ({ ...edge, path: place(edge.path) })),
    };
  });
}

function cutsOfBite(
  laid: readonly LaidPart[],
  hosts: ReadonlyMap<string, string>,
  knife: Point,
): Cut[] {
  const cuts: Cut[] = [];
  let waiting = laid;
  let at = knife;
  while (waiting.length > 0) {
    const blocked = new Set(waiting.map(({ label }) => hosts.get(label)));
    const free = waiting.filter(({ label }) => !blocked.has(label));
    const next = nearest(free, at, ({ outline }) => outline);
    cuts.push(...cutsOfPart(next, at));
    at = lastPoint(cuts);
    waiting = waiting.filter((part) => part !== next);
  }
  return cuts;
}

function cutsOfPart({ label, outline, inner, notches, edges }: LaidPart, knife: Point): Cut[] {
  const cuts: Cut[] = [];
  let at = knife;
  const cut = (kind: CutKind, path: Path): void => {
    cuts.push({ label, kind, path });
    at = lastPoint(cuts);
  };
  for (const group of [notches, inner]) {
    let waiting = group;
    while (waiting.length > 0) {
      const next = nearest(waiting, at, (path) => path);
      waiting = waiting.filter((path) => path !== next);
      if (next.closed) cut('inner', begunNear(next, at));
      else cut('notch', next);
    }
  }
  cut('outline', begunOutOfSight(outline, edges, at));
  return cuts;
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
function lastPoint(cuts: readonly Cut[]): Point {
  const { path } = cuts.at(-1)!;
  return path.closed ? path.vertices[0]! : path.vertices.at(-1)!;
}
