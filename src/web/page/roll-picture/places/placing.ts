import type { PartPlace } from '../../../api/lay.ts';
import { normalDeg, turnDeg } from '../../../../geometry/paths/angle.ts';
import type { Placement } from '../../../../lay/lay.ts';
import type { PicturedPart } from '../../../api/pictured.ts';
import type { Extent, Matrix } from './view.ts';
import type { Point } from '../../../../geometry/paths/point.ts';

/** A part where it lies, and its box there. */
export interface PartOnRoll {
  readonly part: PicturedPart;
  readonly place: PartPlace;
  readonly box: Extent;
}

/** From the part's own frame to the roll. */
export function placeMatrix({ x, y, rotation }: PartPlace): Matrix {
  const rad = (rotation * Math.PI) / 180;
  const [cos, sin] = [Math.cos(rad), Math.sin(rad)];
  return [cos, sin, -sin, cos, x, y];
}

/** A spot of the part, on the roll. */
export function onRoll(place: PartPlace, { x, y }: Point): Point {
  const [a, b, c, d, e, f] = placeMatrix(place);
  return { x: a * x + c * y + e, y: b * x + d * y + f };
}

/** A spot of the roll, in the part's own frame. */
export function inPart(place: PartPlace, { x, y }: Point): Point {
  const [a, b, c, d, e, f] = placeMatrix(place);
  return { x: a * (x - e) + b * (y - f), y: c * (x - e) + d * (y - f) };
}

/** Where a part lies that is turned so and has a spot of its own at one of the roll. */
export function placeWith(own: Point, rotation: number, at: Point): PartPlace {
  const turned = onRoll({ x: 0, y: 0, rotation }, own);
  return { x: at.x - turned.x, y: at.y - turned.y, rotation };
}

/** Rounded for a file: a tenth of a mm is finer than any hand. */
export function roundedPlace({ x, y, rotation }: PartPlace): PartPlace {
  return { x: Math.round(x * 10) / 10, y: Math.round(y * 10) / 10, rotation };
}

export function samePlace(a: PartPlace, b: PartPlace): boolean {
  return a.x === b.x && a.y === b.y && a.rotation === b.rotation;
}

export function placePart(part: PicturedPart, place: PartPlace): PartOnRoll {
  return { part, place, box: boxOf(part.ring, place) };
}

function boxOf(ring: readonly number[], place: PartPlace): Extent {
  const [a, b, c, d, e, f] = placeMatrix(place);
  let [minX, minY, maxX, maxY] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i < ring.length; i += 2) {
    const x = a * ring[i]! + c * ring[i + 1]! + e;
    const y = b * ring[i]! + d * ring[i + 1]! + f;
    minX = Math.min(minX, x);
    minY = Math.min(minY, y);
    maxX = Math.max(maxX, x);
    maxY = Math.max(maxY, y);
  }
  return [minX, minY, maxX, maxY];
}

/** The parts that are placed, where they lie. A placement without a part is left out. */
export function layOut(
  parts: readonly PicturedPart[],
  placements: readonly Placement[],
): readonly PartOnRoll[] {
  const byLabel = new Map(parts.map((part) => [part.label, part]));
  return placements.flatMap(({ label, x, y, rotation }) => {
    const part = byLabel.get(label);
    return part === undefined ? [] : [placePart(part, { x, y, rotation })];
  });
}

/** The same for `places` as x, y, rotation, x, y, rotation ... of `labels`. */
export function layOutTried(
  parts: readonly PicturedPart[],
  tried: { readonly labels: readonly string[]; readonly places: readonly number[] },
): readonly PartOnRoll[] {
  const placements = tried.labels.map((label, i) => ({
    label,
    x: tried.places[3 * i]!,
    y: tried.places[3 * i + 1]!,
    rotation: tried.places[3 * i + 2]!,
  }));
  return layOut(parts, placements);
}

/** mm from the roll's start to the far edge of the last part. */
export function lengthReached(placed: readonly PartOnRoll[]): number {
  return placed.reduce((most, { box }) => Math.max(most, box[2]), 0);
}

/** The next of the turns that are allowed, counter-clockwise; the same where there is no other. */
export function nextTurn(turns: readonly number[], rotation: number): number {
  const sorted = turns.map(normalDeg).sort((a, b) => a - b);
  const now = normalDeg(rotation);
  return sorted.find((deg) => deg > now + 1e-6) ?? sorted[0] ?? now;
}

/** Part of the way from one place to another, the shorter way round. */
export function placeBetween(from: PartPlace, to: PartPlace, share: number): PartPlace {
  return {
    x: from.x + share * (to.x - from.x),
    y: from.y + share * (to.y - from.y),
    rotation: from.rotation + share * turnDeg(from.rotation, to.rotation),
  };
}
