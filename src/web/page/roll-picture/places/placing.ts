import type { Placed, TablePart } from '../../../api/api.ts';
import type { Extent, Matrix, Spot } from './view.ts';

/** Where a part lies: turned counter-clockwise about its own origin, then moved; mm and degrees. */
export type Place = Pick<Placed, 'x' | 'y' | 'rotation'>;

/** A part where it lies, and its box there. */
export interface PlacedPart {
  readonly part: TablePart;
  readonly place: Place;
  readonly box: Extent;
}

/** From the part's own frame to the roll. */
export function placeMatrix({ x, y, rotation }: Place): Matrix {
  const rad = (rotation * Math.PI) / 180;
  const [cos, sin] = [Math.cos(rad), Math.sin(rad)];
  return [cos, sin, -sin, cos, x, y];
}

/** A spot of the part, on the roll. */
export function onRoll(place: Place, { x, y }: Spot): Spot {
  const [a, b, c, d, e, f] = placeMatrix(place);
  return { x: a * x + c * y + e, y: b * x + d * y + f };
}

/** A spot of the roll, in the part's own frame. */
export function inPart(place: Place, { x, y }: Spot): Spot {
  const [a, b, c, d, e, f] = placeMatrix(place);
  return { x: a * (x - e) + b * (y - f), y: c * (x - e) + d * (y - f) };
}

/** Where a part lies that is turned so and has a spot of its own at one of the roll. */
export function placeWith(own: Spot, rotation: number, at: Spot): Place {
  const turned = onRoll({ x: 0, y: 0, rotation }, own);
  return { x: at.x - turned.x, y: at.y - turned.y, rotation };
}

/** Rounded for a file: a tenth of a mm is finer than any hand. */
export function roundedPlace({ x, y, rotation }: Place): Place {
  return { x: Math.round(x * 10) / 10, y: Math.round(y * 10) / 10, rotation };
}

export function samePlace(a: Place, b: Place): boolean {
  return a.x === b.x && a.y === b.y && a.rotation === b.rotation;
}

export function placePart(part: TablePart, place: Place): PlacedPart {
  return { part, place, box: boxOf(part.ring, place) };
}

function boxOf(ring: readonly number[], place: Place): Extent {
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
  parts: readonly TablePart[],
  placements: readonly Placed[],
): readonly PlacedPart[] {
  const byLabel = new Map(parts.map((part) => [part.label, part]));
  return placements.flatMap(({ label, x, y, rotation }) => {
    const part = byLabel.get(label);
    return part === undefined ? [] : [placePart(part, { x, y, rotation })];
  });
}

/** The same for `places` as x, y, rotation, x, y, rotation ... of `labels`. */
export function layOutTried(
  parts: readonly TablePart[],
  tried: { readonly labels: readonly string[]; readonly places: readonly number[] },
): readonly PlacedPart[] {
  const placements = tried.labels.map((label, i) => ({
    label,
    x: tried.places[3 * i]!,
    y: tried.places[3 * i + 1]!,
    rotation: tried.places[3 * i + 2]!,
  }));
  return layOut(parts, placements);
}

/** mm from the roll's start to the far edge of the last part. */
export function reachOf(placed: readonly PlacedPart[]): number {
  return placed.reduce((most, { box }) => Math.max(most, box[2]), 0);
}

/** The next of the turns that are allowed, counter-clockwise; the same where there is no other. */
export function nextTurn(turns: readonly number[], rotation: number): number {
  const sorted = turns.map(normalDeg).sort((a, b) => a - b);
  const now = normalDeg(rotation);
  return sorted.find((deg) => deg > now + 1e-6) ?? sorted[0] ?? now;
}

/** In [0, 360). */
export function normalDeg(deg: number): number {
  return ((deg % 360) + 360) % 360;
}

/** Part of the way from one place to another, the shorter way round. */
export function between(from: Place, to: Place, share: number): Place {
  const turn = ((((to.rotation - from.rotation) % 360) + 540) % 360) - 180;
  return {
    x: from.x + share * (to.x - from.x),
    y: from.y + share * (to.y - from.y),
    rotation: from.rotation + share * turn,
  };
}
