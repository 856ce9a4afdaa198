import { normalDeg, turnDeg } from '../../../../geometry/paths/angle.ts';
import type { Point } from '../../../../geometry/paths/point.ts';
import type { Placement } from '../../../../lay/lay.ts';
import type { PartPlace } from '../../../api/lay.ts';
import type { PicturedPart } from '../../../api/pictured.ts';
import type { Extent, Matrix } from '../../picture/view.ts';

/** A part on the roll: where it lies, and its box there. */
export interface PartOnRoll {
  readonly part: PicturedPart;
  readonly place: PartPlace;
  readonly box: Extent;
}

/** The matrix that takes a part from its own frame to the roll. */
export function placeMatrix({ x, y, rotation }: PartPlace): Matrix {
  const rad = (rotation * Math.PI) / 180;
  const [cos, sin] = [Math.cos(rad), Math.sin(rad)];
  return [cos, sin, -sin, cos, x, y];
}

/** Where a point of the part lies on the roll. */
export function onRoll(place: PartPlace, { x, y }: Point): Point {
  const [a, b, c, d, e, f] = placeMatrix(place);
  return { x: a * x + c * y + e, y: b * x + d * y + f };
}

/** A point of the roll in the part's own frame. */
export function inPart(place: PartPlace, { x, y }: Point): Point {
  const [a, b, c, d, e, f] = placeMatrix(place);
  return { x: a * (x - e) + b * (y - f), y: c * (x - e) + d * (y - f) };
}

/**
 * The place of a part that is turned by `rotation` and has its own point `own` at the point `at` of the
 * roll.
 */
export function placeWith(own: Point, rotation: number, at: Point): PartPlace {
  const turned = onRoll({ x: 0, y: 0, rotation }, own);
  return { x: at.x - turned.x, y: at.y - turned.y, rotation };
}

/** A place rounded to a tenth of a mm, which is finer than anybody can drag. */
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

/** Parts on the roll, from their placements. A placement that has no part is left out. */
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

/** The same where `places` has three numbers (x, y and rotation) for each of the `labels`. */
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

/** How far the parts reach along the roll from its start, mm. */
export function lengthReached(placed: readonly PartOnRoll[]): number {
  return placed.reduce((most, { box }) => Math.max(most, box[2]), 0);
}

/**
 * The next of the turns that are allowed, counter-clockwise, in degrees. It is the same turn where no
 * other is allowed.
 */
export function nextTurn(turns: readonly number[], rotation: number): number {
  const sorted = turns.map(normalDeg).sort((a, b) => a - b);
  const now = normalDeg(rotation);
  return sorted.find((deg) => deg > now + 1e-6) ?? sorted[0] ?? now;
}

/**
 * A place on the way from one to another, after a `share` (0 to 1) of it; a part turns the shorter way
 * round.
 */
export function placeBetween(from: PartPlace, to: PartPlace, share: number): PartPlace {
  return {
    x: from.x + share * (to.x - from.x),
    y: from.y + share * (to.y - from.y),
    rotation: from.rotation + share * turnDeg(from.rotation, to.rotation),
  };
}
