import type { Finding } from '../../base/findings.ts';
import { quotedNames } from '../../base/wording.ts';
import { areaOf } from '../../geometry/paths/area.ts';
import type { Box } from '../../geometry/paths/box.ts';
import { boxesOverlap, sameBox } from '../../geometry/paths/box.ts';
import type { PatternSet } from '../../pattern/set.ts';
import type { LyingPiece } from '../lying-piece.ts';
import { hasSpot, lyingPiece, spotsIn } from '../lying-piece.ts';
import { strayPieces } from './sides-drawn.ts';

/** Pieces whose boxes have a corner within this of each other were drawn from one origin, mm. */
const sameOrigin = 1;

/** The share of the smaller piece that lies on the larger one where they lie on each other. */
const much = 0.5;

const placing =
  'Say with "at:" where the origin of each block lies in the vehicle, or draw the pieces in their places.';

/** A piece is looked at in so many places across and along. */
const looks = 10;

/**
 * Rule: pieces do not lie on each other because nothing says where they belong. A mat lies on a floor, so
 * two pieces may; but of pieces without `at`, three that all lie on each other, or two that begin at the
 * same corner, were each drawn from an origin of their own. One finding for the whole set: the plan in
 * the fitting papers would show a heap. Where they lie apart in no order, the plan shows them so, and says
 * it: a note.
 */
export function checkStacked(patterns: PatternSet): Finding[] {
  const { placeOf } = patterns;
  const heaped = heapedPieces(patterns);
  if (heaped.length === 0) return unplaced(patterns);
  return [
    {
      severity: 'warning',
      rule: 'stacked',
      message: `${quotedNames(heaped)} lie on each other in the vehicle, because nothing says where each belongs: the plan on the fitting sheet shows a heap.`,
      todo: placing,
      where: placeOf(['pieces']),
    },
  ];
}

/** The names of the pieces that lie on each other because nothing says where each belongs. */
export function heapedPieces({ pieces }: Pick<PatternSet, 'pieces'>): string[] {
  return heapOf(
    pieces.filter(({ entry }) => entry.at[0] === 0 && entry.at[1] === 0).map(lyingPiece),
  );
}

function unplaced(patterns: PatternSet): Finding[] {
  const names = strayPieces(patterns).map(({ name }) => name);
  if (names.length === 0) return [];
  const [are, their] = names.length === 1 ? ['is', 'its'] : ['are', 'their'];
  return [
    {
      severity: 'note',
      rule: 'unplaced',
      message: `${quotedNames(names)} ${are} not drawn on ${their} side of the vehicle, and nothing says where each piece belongs: the plan on the fitting sheet shows them as they are drawn, and says so.`,
      todo: placing,
      where: patterns.placeOf(['pieces']),
    },
  ];
}

/** The names of the pieces that lie on each other by threes, or by twos from one corner. */
function heapOf(loose: readonly LyingPiece[]): string[] {
  const on = new Map(loose.map((one) => [one, new Set<LyingPiece>()] as const));
  const heaped = new Set<LyingPiece>();
  for (const [i, one] of loose.entries()) {
    for (const other of loose.slice(i + 1)) {
      if (!lieOnEachOther(one, other)) continue;
      on.get(one)!.add(other);
      on.get(other)!.add(one);
      if (haveOneCorner(one.box, other.box)) heaped.add(one).add(other);
    }
  }
  for (const [one, partners] of on) {
    const third = [...partners].some((a) => [...partners].some((b) => on.get(a)!.has(b)));
    if (third) heaped.add(one);
  }
  return loose.filter((one) => heaped.has(one)).map(({ name }) => name);
}

/**
 * Whether two boxes have their lower left or their lower right corner in one place. If they are the same
 * all round, the second is another layer of the first.
 */
function haveOneCorner(one: Box, other: Box): boolean {
  if (sameBox(one, other, sameOrigin)) return false;
  const alike = (side: 'minX' | 'maxX' | 'minY'): boolean =>
    Math.abs(one[side] - other[side]) <= sameOrigin;
  return alike('minY') && (alike('minX') || alike('maxX'));
}

function lieOnEachOther(one: LyingPiece, other: LyingPiece): boolean {
  if (!boxesOverlap(one.box, other.box)) return false;
  const [small, large] = areaOf(one.net) <= areaOf(other.net) ? [one, other] : [other, one];
  const all = spotsIn(small, small.box, looks);
  const common = all.filter((spot) => hasSpot(large, spot));
  return all.length > 0 && common.length >= much * all.length;
}
