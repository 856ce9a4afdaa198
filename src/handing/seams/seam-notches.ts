import { nearestOnPath } from '../../geometry/measuring/nearest.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { lengthAt } from '../../geometry/paths/stretch.ts';
import type { Material, Materials } from '../../pattern/shop/material.ts';
import { materialOf } from '../../pattern/shop/material.ts';
import type { SetContent } from '../../pattern/set-file.ts';
import type { Edge, Notch, Part } from '../part.ts';
import type { Join, SewnEdge } from './seams.ts';
import { lengthOfSewn } from './seams.ts';

/** A notch on a sewn edge. */
export interface SeamNotch {
  /** Length along the sewn part of the edge, mm from its start. */
  readonly along: number;
  /** Its place on the net edge. */
  readonly at: Point;
}

/** The notches on a sewn edge of a part, in the direction of the edge. */
export function seamNotches({ part, edge, from, to }: SewnEdge, material: Material): SeamNotch[] {
  return part.notches
    .filter((notch) => edgeOfNotch(part, notch, material) === edge)
    .map((notch) => {
      const { station, point } = nearestOnPath(edge.path, notch.at ?? notch.from);
      return { along: lengthAt(edge.path, station), at: point };
    })
    .filter(({ along }) => from <= along && along <= to)
    .map(({ along, at }) => ({ along: along - from, at }))
    .sort((a, b) => a.along - b.along);
}

/**
 * The edge on which a slit stands. The slit begins on the cut line, so its start should be as far from
 * the net edge as the allowance of that edge is wide: the edge that fits best is taken.
 */
function edgeOfNotch({ edges }: Part, { from }: Notch, { allowances }: Material): Edge | null {
  let best: Edge | null = null;
  let least = Infinity;
  for (const edge of edges) {
    const off = Math.abs(nearestOnPath(edge.path, from).distance - allowances[edge.kind]);
    if (off < least) [best, least] = [edge, off];
  }
  return best;
}

/** Which notches of the two edges of a seam belong together. */
export interface MatchedNotches {
  readonly met: readonly (readonly [SeamNotch, SeamNotch])[];
  /** The notches of the first and of the second edge that have no partner. */
  readonly unmet: readonly [SeamNotch[], SeamNotch[]];
}

/**
 * Pairs the notches of two edges that are sewn together.
 *
 * Both outlines run counter-clockwise, so edges that are sewn face to face run against each other. A
 * place s along the first edge, of length L, meets the place s' along the second, of length L', where s /
 * L = 1 - s' / L': ease is spread evenly. So the places of the second are converted to the first edge,
 * and both lists are walked in order. Two notches meet if they are within `within` mm. A notch that near
 * to an end of a seam stands for that end and needs no partner.
 */
function matchNotches(
  edges: readonly [SewnEdge, SewnEdge],
  notches: readonly [readonly SeamNotch[], readonly SeamNotch[]],
  within: number,
): MatchedNotches {
  const [length, otherLength] = edges.map(lengthOfSewn) as [number, number];
  const own = notches[0].map((notch) => ({ notch, place: notch.along }));
  const others = notches[1]
    .map((notch) => ({ notch, place: length * (1 - notch.along / otherLength) }))
    .toReversed();
  const met: [SeamNotch, SeamNotch][] = [];
  const unmet: [SeamNotch[], SeamNotch[]] = [[], []];
  let [i, j] = [0, 0];
  while (i < own.length || j < others.length) {
    const one = own[i]?.place ?? Infinity;
    const other = others[j]?.place ?? Infinity;
    if (Math.abs(one - other) <= within) met.push([own[i++]!.notch, others[j++]!.notch]);
    else if (one < other) unmet[0].push(own[i++]!.notch);
    else unmet[1].push(others[j++]!.notch);
  }
  const isBetween = (end: number, { along }: SeamNotch): boolean =>
    along > within && along < end - within;
  return {
    met,
    unmet: [
      unmet[0].filter((notch) => isBetween(length, notch)),
      unmet[1].filter((notch) => isBetween(otherLength, notch)),
    ],
  };
}

/** By how much two lengths may differ that were meant to be equal when they were drawn, mm. */
export const drawnAlike = 0.1;

/** The notches of a join in pairs, compared within the ease of its seam. */
export function notchesOfJoin(
  { edges, seam }: Join,
  { seams, ease }: Pick<SetContent, 'seams' | 'ease'>,
  materials: Materials,
): MatchedNotches {
  const [one, other] = edges.map((sewn) =>
    seamNotches(sewn, materialOf(materials, sewn.part.material)),
  );
  return matchNotches(edges, [one!, other!], (seams[seam]!.ease ?? ease) + drawnAlike);
}
