import { nearestOnPath } from '../../geometry/measuring/nearest.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { lengthAt } from '../../geometry/paths/stretch.ts';
import type { Material, Materials } from '../../pattern/shop/material.ts';
import { materialOf } from '../../pattern/shop/material.ts';
import type { SetSheet } from '../../pattern/set-file.ts';
import type { Edge, Notch, Part } from '../part.ts';
import type { Join, SewnEdge } from './seams.ts';
import { lengthOfSewn } from './seams.ts';

/** A notch on a sewn edge. */
export interface SeamNotch {
  /** mm along what is sewn, from its start. */
  readonly along: number;
  /** Where it stands on the net edge. */
  readonly at: Point;
}

/** The notches of a part that belong to a sewn edge of it, in its direction. */
function seamNotches({ part, edge, from, to }: SewnEdge, material: Material): SeamNotch[] {
  return part.notches
    .filter((notch) => edgeOfNotch(part, notch, material) === edge)
    .map((notch) => {
      const { station, point } = nearestOnPath(edge.path, notch.from);
      return { along: lengthAt(edge.path, station), at: point };
    })
    .filter(({ along }) => from <= along && along <= to)
    .map(({ along, at }) => ({ along: along - from, at }))
    .sort((a, b) => a.along - b.along);
}

/** The edge that a slit stands on: it begins on the cut line, so as far from its edge as that is allowed. */
function edgeOfNotch({ edges }: Part, { from }: Notch, { allowances }: Material): Edge | null {
  let best: Edge | null = null;
  let least = Infinity;
  for (const edge of edges) {
    const off = Math.abs(nearestOnPath(edge.path, from).distance - allowances[edge.kind]);
    if (off < least) [best, least] = [edge, off];
  }
  return best;
}

/** Which notches of a seam's two edges are meant for each other. */
export interface MatchedNotches {
  readonly met: readonly (readonly [SeamNotch, SeamNotch])[];
  /** The notches of the first and of the second edge that meet none of the other. */
  readonly unmet: readonly [SeamNotch[], SeamNotch[]];
}

/**
 * Both outlines run counter-clockwise, so two edges that are sewn face to face run against each other:
 * what lies s along the one, of length L, meets what lies L' - s' along the other. Ease is spread
 * evenly: places are compared as shares of their edge, s / L with 1 - s' / L', and meet where they are
 * `within` mm of each other on the first. A notch so near to an end of a seam stands for that end, and
 * needs no other.
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

/** What two drawings of one length may differ by without anybody having meant it, mm. */
export const drawnAlike = 0.1;

/** The notches of a join, held against each other to the ease of its seam. */
export function notchesOfJoin(
  { edges, seam }: Join,
  { seams, ease }: Pick<SetSheet, 'seams' | 'ease'>,
  materials: Materials,
): MatchedNotches {
  const [one, other] = edges.map((sewn) =>
    seamNotches(sewn, materialOf(materials, sewn.part.material)),
  );
  return matchNotches(edges, [one!, other!], (seams[seam]!.ease ?? ease) + drawnAlike);
}
