import { rememberedFor } from '../base/remembered.ts';
import type { MeasuredPath } from '../geometry/measuring/measured-path.ts';
import { measurePath, nearestPlace } from '../geometry/measuring/measured-path.ts';
import { bendOf } from '../geometry/measuring/bend.ts';
import type { Path } from '../geometry/paths/path.ts';
import { polyline } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import { between, distance, dot, minus, unit } from '../geometry/paths/point.ts';
import { crossingsWith } from '../geometry/relations/crossings.ts';
import { placeInArea } from '../geometry/relations/measured-area.ts';
import { traceTolerance } from './edges.ts';
import type { Feature } from './feature.ts';
import { layerName } from './layers.ts';
import { deepestNotch } from './shop/material.ts';

/** An outline is looked at for each of its notches. */
const measuredOf = rememberedFor((outline: Path) => measurePath(outline));

/** The two legs of a V differ by no more than this share of the longer one, or by traceTolerance. */
const likeLegs = 0.1;

/** The bar of a T crosses its stem this near to a right angle: a cosine. */
const squareOn = 0.35;

/** The middle of a bar lies this near to the end of its stem, as a share of the bar. */
const nearMiddle = 0.15;

/**
 * The features with every notch as a point, or as one line in from the outline, that is drawn as a V (of
 * one line or of two, or a closed triangle on the edge), as a tick across the outline or as a T. Only
 * where place and direction are certain: a V has like legs and its tip inside; a tick crosses the outline
 * once; the bar of a T says nothing. The rest stays as drawn, and a rule tells what is wrong with it.
 * `outline` is closed.
 */
export function plainNotches(features: readonly Feature[], outline: Path): readonly Feature[] {
  const drawn = features.filter(({ role, path }) => role === 'NOTCH' && path.vertices.length > 1);
  if (drawn.length === 0) return features;
  const measured = measuredOf(outline);
  const layers = [...new Set(drawn.map(layerName))];
  const made = new Map<Feature, Feature | null>();
  for (const layer of layers) {
    const own = drawn.filter((one) => layerName(one) === layer);
    for (const [feature, plain] of plainOf(own, measured)) made.set(feature, plain);
  }
  if (made.size === 0) return features;
  return features.flatMap((feature) => {
    const plain = made.get(feature);
    return plain === undefined ? [feature] : plain === null ? [] : [plain];
  });
}

/** What becomes of the notches of one layer that are not plain; null: it is a part of another one. */
function plainOf(
  notches: readonly Feature[],
  outline: MeasuredPath,
): ReadonlyMap<Feature, Feature | null> {
  const made = new Map<Feature, Feature | null>();
  const lines = notches.filter(({ path }) => isStraight(path));
  for (const bar of lines) {
    const stem = lines.find((one) => one !== bar && isBarOf(bar, one) && stands(one, outline));
    if (stem === undefined) continue;
    made.set(bar, null);
    made.set(stem, { ...(plainTick(stem, outline) ?? stem), drawnAs: 't' });
  }
  for (const notch of notches) {
    if (made.has(notch)) continue;
    const partner = lines.find((one) => one !== notch && !made.has(one) && meetsAtTip(notch, one));
    const vee =
      partner === undefined
        ? veeOf(legsIn(notch.path, outline), outline)
        : veeOf(legsOfTwo(notch.path, partner.path), outline);
    if (vee !== null) {
      made.set(notch, { ...notch, path: vee, drawnAs: 'v' });
      if (partner !== undefined) made.set(partner, null);
      continue;
    }
    const tick = plainTick(notch, outline);
    if (tick !== null) made.set(notch, tick);
  }
  return made;
}

/** Whether a line is open and straight, as people draw: of several points too. */
export function isStraight(path: Path): boolean {
  return !path.closed && bendOf(path).distance <= traceTolerance;
}

function endsOf({ vertices }: Path): readonly [Point, Point] {
  const [first, last] = [vertices[0]!, vertices.at(-1)!];
  return [
    { x: first.x, y: first.y },
    { x: last.x, y: last.y },
  ];
}

/** Whether a line lies square across an end of another one, with its middle there. */
function isBarOf({ path }: Feature, stem: Feature): boolean {
  const [from, to] = endsOf(path);
  const length = distance(from, to);
  const [foot, head] = endsOf(stem.path);
  if (length > deepestNotch || distance(foot, head) <= traceTolerance) return false;
  const middle = between(from, to, 0.5);
  const off = Math.min(distance(foot, middle), distance(head, middle));
  if (off > Math.max(nearMiddle * length, samePlace)) return false;
  return Math.abs(dot(unit(minus(to, from)), unit(minus(head, foot)))) <= squareOn;
}

/** Ends that are drawn to meet lie this near to each other, mm. */
const samePlace = 0.1;

/** Whether one end of a line lies on the outline, or one inside it and one outside. */
function stands({ path }: Feature, outline: MeasuredPath): boolean {
  const ends = endsOf(path);
  const on = ends.filter((end) => isOn(outline, end));
  return on.length === 1 || tickOf(path, outline) !== null;
}

function isOn(outline: MeasuredPath, p: Point): boolean {
  return nearestPlace(outline, p).distance <= traceTolerance;
}

/** The line in from the outline that a straight line is which crosses it once; null: it does not. */
function plainTick(notch: Feature, outline: MeasuredPath): Feature | null {
  const path = isStraight(notch.path) ? tickOf(notch.path, outline) : null;
  return path === null ? null : { ...notch, path, drawnAs: 'tick' };
}

function tickOf(path: Path, outline: MeasuredPath): Path | null {
  const [first, last] = endsOf(path);
  // One that begins on the outline, as well as people draw, is plain.
  if (isOn(outline, first) || isOn(outline, last)) return null;
  const crossings = crossingsWith(outline, polyline([first, last], false));
  if (!crossings.every((one) => distance(one, crossings[0]!) <= samePlace)) return null;
  const inside = [first, last].filter((end) => placeInArea(outline, end) === 'inside');
  if (crossings.length === 0 || inside.length !== 1) return null;
  return polyline([crossings[0]!, inside[0]!], false);
}

/** A V: its two open ends, and its tip. */
interface Vee {
  readonly open: readonly [Point, Point];
  readonly tip: Point;
}

/** The V that one line draws, open or as a closed triangle of which one side lies on the edge. */
function legsIn({ closed, vertices }: Path, outline: MeasuredPath): Vee | null {
  if (vertices.length !== 3 || vertices.some(({ bulge }) => bulge !== 0)) return null;
  const [a, b, c] = vertices.map(({ x, y }): Point => ({ x, y })) as [Point, Point, Point];
  if (!closed) return { open: [a, c], tip: b };
  const off = [a, b, c].filter((corner) => !isOn(outline, corner));
  if (off.length !== 1) return null;
  const [one, other] = [a, b, c].filter((corner) => corner !== off[0]);
  return { open: [one!, other!], tip: off[0]! };
}

function meetsAtTip({ path }: Feature, other: Feature): boolean {
  return isStraight(path) && legsOfTwo(path, other.path) !== null;
}

/** The V of two lines that have one end in common. */
function legsOfTwo(one: Path, other: Path): Vee | null {
  const [ours, theirs] = [endsOf(one), endsOf(other)];
  for (const i of [0, 1] as const) {
    for (const k of [0, 1] as const) {
      if (distance(ours[i], theirs[k]) > samePlace) continue;
      return { open: [ours[i === 0 ? 1 : 0], theirs[k === 0 ? 1 : 0]], tip: ours[i] };
    }
  }
  return null;
}

/** The line from the middle of the mouth of a V to its tip; null: it is no V on the outline. */
function veeOf(vee: Vee | null, outline: MeasuredPath): Path | null {
  if (vee === null) return null;
  const { open, tip } = vee;
  if (!open.every((end) => isOn(outline, end)) || isOn(outline, tip)) return null;
  if (placeInArea(outline, tip) !== 'inside' || distance(...open) > deepestNotch) return null;
  const legs = open.map((end) => distance(end, tip)) as [number, number];
  const allowed = Math.max(traceTolerance, likeLegs * Math.max(...legs));
  if (Math.abs(legs[0] - legs[1]) > allowed) return null;
  const { point } = nearestPlace(outline, between(open[0], open[1], 0.5));
  return polyline([point, tip], false);
}
