import type { Finding } from '../../base/findings.ts';
import { wordSpot } from '../../base/findings.ts';
import { alongPath, middleOfPath } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { distance } from '../../geometry/paths/point.ts';
import type { Materials } from '../../pattern/shop/material.ts';
import type { PatternSet } from '../../pattern/set.ts';
import { placeInDrawing } from '../drawn-place.ts';
import { partError } from '../findings.ts';
import type { Edge, Part } from '../part.ts';
import { positionsOf } from '../sides.ts';
import type { SeamNotch } from '../seams/seam-notches.ts';
import { drawnAlike, notchesOfJoin } from '../seams/seam-notches.ts';
import type { Join, SewnEdge } from '../seams/seams.ts';
import { lengthOfSewn } from '../seams/seams.ts';
import { wordSeam } from './seam-words.ts';

/** A join, with what findings about it need. */
interface Fit extends Join {
  /** The seam in words: `floor/front – dash`. */
  readonly name: string;
  /** How much the two edges may differ, mm. */
  readonly ease: number;
}

/**
 * Rule: two edges that are sewn together have the same net length, and each notch of one meets a notch of
 * the other (see matchNotches), both within the ease of the seam. If one edge is a whole outline there is
 * no end from which to measure notches: then only the lengths are compared.
 */
export function checkFit(join: Join, patterns: PatternSet, materials: Materials): Finding[] {
  const { content } = patterns;
  const ease = content.seams[join.seam]!.ease ?? content.ease;
  const fit = { ...join, name: wordSeam(content, join.seam), ease };
  const [one, other] = join.edges;
  const off = Math.abs(lengthOfSewn(one) - lengthOfSewn(other));
  if (off > ease + drawnAlike) return [lengthsDiffer(fit)];
  if (isRing(one.edge) || isRing(other.edge)) return [];
  const { unmet } = notchesOfJoin(join, content, materials);
  return [
    ...unmet[0].map((notch) => notchAlone(fit, notch, one, other, patterns)),
    ...unmet[1].map((notch) => notchAlone(fit, notch, other, one, patterns)),
  ];
}

export function isRing({ path }: Edge): boolean {
  return distance(path.vertices[0]!, path.vertices.at(-1)!) <= drawnAlike;
}

function lengthsDiffer({ name, ease, edges: [one, other] }: Fit): Finding {
  const word = (sewn: SewnEdge): string =>
    `${lengthOfSewn(sewn).toFixed(1)} mm of ${sewn.part.name}`;
  const message = `the seam ${name} does not fit: ${word(one)} meet ${word(other)}, and ${ease} mm may be eased in.`;
  const todo = 'Mend one of the outlines, or give the seam its own "ease:".';
  return partError(one.part, { rule: 'seam-length', message, todo }, middleOfPath(one.edge.path));
}

function notchAlone(
  { name, ease }: Fit,
  { along, at }: SeamNotch,
  own: SewnEdge,
  other: SewnEdge,
  patterns: PatternSet,
): Finding {
  const meets = lengthOfSewn(other) * (1 - along / lengthOfSewn(own));
  const there = drawnAt(other.part, alongPath(other.edge.path, other.from + meets).point, patterns);
  const message = `this notch, ${along.toFixed(1)} mm along the seam ${name}, meets none of ${other.part.name} within ${ease} mm of ${wordSpot(there)} in the drawing of ${other.part.piece}.`;
  const todo = 'Draw its counterpart there, move one of the two, or remove it.';
  return partError(own.part, { rule: 'seam-notch', message, todo }, at);
}

/** A place on a part, in the frame of the block that draws its piece. */
export function drawnAt(
  { piece, side, hand }: Part,
  at: Point,
  { pieces, content }: PatternSet,
): Point {
  const own = pieces.find(({ name }) => name === piece)!;
  const position = positionsOf(own.entry, content.drawn, hand).find((one) => one.side === side);
  return placeInDrawing(own, position?.mirrored ?? false, at);
}
