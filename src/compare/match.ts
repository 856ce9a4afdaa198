import { centreOf, growBox, boxesOverlap } from '../geometry/paths/box.ts';
import { boxOfPath } from '../geometry/paths/path.ts';
import type { Box } from '../geometry/paths/box.ts';
import { distance } from '../geometry/paths/point.ts';
import type { Item } from './comparable.ts';
import { isCongruent } from '../geometry/fitting/motions.ts';
import { isSamePlace } from '../geometry/fitting/deviation.ts';

export interface Matched {
  readonly pairs: readonly (readonly [before: Item, after: Item])[];
  readonly removed: readonly Item[];
  readonly added: readonly Item[];
}

/**
 * Finds which item of one input is which item of the other: by label if that is clear, then by the same
 * place, then by the same shape, the nearest first, and at last by boxes that lie over each other.
 */
export function matchItems(
  before: readonly Item[],
  after: readonly Item[],
  tolerance: number,
): Matched {
  const groups = new Map<string, [Item[], Item[]]>();
  for (const [side, items] of [before, after].entries()) {
    for (const item of items) {
      const key = JSON.stringify([item.what, item.label]);
      const group = groups.get(key) ?? groups.set(key, [[], []]).get(key)!;
      group[side]!.push(item);
    }
  }
  const pairs: (readonly [Item, Item])[] = [];
  const rest: [Item[], Item[]] = [[], []];
  for (const [one, other] of groups.values()) {
    const [first] = one;
    const [second] = other;
    if (first?.label !== null && one.length === 1 && other.length === 1) {
      pairs.push([first!, second!]);
      continue;
    }
    const found = pairUp(one, other, tolerance, first?.label !== null);
    pairs.push(...found.pairs);
    rest[0].push(...found.removed);
    rest[1].push(...found.added);
  }
  const last = pairUp(rest[0], rest[1], tolerance, true);
  return { pairs: [...pairs, ...last.pairs], removed: last.removed, added: last.added };
}

interface Boxed {
  readonly item: Item;
  readonly box: Box;
}

/**
 * Pairs items by place, then by shape, then by boxes that lie over each other. If `byShape` is false,
 * only by place.
 */
function pairUp(
  before: readonly Item[],
  after: readonly Item[],
  tolerance: number,
  byShape: boolean,
): Matched {
  let [left, right] = [before, after].map((items) =>
    items.map((item): Boxed => ({ item, box: boxOfPath(item.outline) })),
  );
  const pairs: [Item, Item][] = [];
  const take = (fits: (a: Boxed, b: Boxed) => boolean, nearestFirst: boolean): void => {
    const used = new Set<Boxed>();
    left = left!.filter((a) => {
      const open = right!.filter((b) => !used.has(b) && mayBe(a.item, b.item));
      const inTurn = nearestFirst ? open.toSorted((b, c) => apart(a, b) - apart(a, c)) : open;
      const found = inTurn.find((b) => fits(a, b));
      if (found === undefined) return true;
      used.add(found);
      pairs.push([a.item, found.item]);
      return false;
    });
    right = right!.filter((b) => !used.has(b));
  };
  const isThere = (a: Boxed, b: Boxed): boolean =>
    boxesOverlap(growBox(a.box, tolerance + 0.1), b.box) &&
    isSamePlace(a.item.outline, b.item.outline, tolerance);
  // Two lines may lie on each other, one on each of two layers: each has its own counterpart.
  take((a, b) => sameWords(a.item, b.item) && isThere(a, b), false);
  take(isThere, false);
  if (byShape) {
    take((a, b) => isCongruent(a.item.outline, b.item.outline, tolerance), true);
    take((a, b) => overlap(a.box, b.box) > 0.5, true);
  }
  return { pairs, removed: left!.map(({ item }) => item), added: right!.map(({ item }) => item) };
}

/** Whether one item may have become the other: a part stays of its piece and its material. */
function mayBe(a: Item, b: Item): boolean {
  return (
    a.what === b.what &&
    a.words['piece'] === b.words['piece'] &&
    (a.words['piece'] === undefined || a.words['material'] === b.words['material'])
  );
}

function sameWords(a: Item, b: Item): boolean {
  const names = Object.keys({ ...a.words, ...b.words });
  return names.every((name) => a.words[name] === b.words[name]);
}

function apart(a: Boxed, b: Boxed): number {
  return distance(centreOf(a.box), centreOf(b.box));
}

/** The area that two boxes have in common, as a share of the box round both. */
function overlap(a: Box, b: Box): number {
  const side = (lowA: number, highA: number, lowB: number, highB: number): [number, number] => [
    Math.max(0, Math.min(highA, highB) - Math.max(lowA, lowB) + 1e-6),
    Math.max(highA, highB) - Math.min(lowA, lowB) + 1e-6,
  ];
  const [across, wide] = side(a.minX, a.maxX, b.minX, b.maxX);
  const [along, high] = side(a.minY, a.maxY, b.minY, b.maxY);
  return (across * along) / (wide * high);
}
