import { carrierCrossings } from '../relations/crossings.ts';
import type { CutPiece, MovedSegment } from './moved.ts';
import { smooth } from './moved.ts';
import { NoOffset } from './no-offset.ts';
import type { Point } from '../paths/point.ts';
import { cross, distance, dot, minus, plus, times, unit } from '../paths/point.ts';
import type { Segment } from '../paths/segment.ts';
import { tangentAt } from '../paths/segment.ts';
import { samePoint } from '../paths/tolerance.ts';

/** What an outline's segment is to the piece once it is folded: a folded one ends at its own line. */
export function asFolded(item: MovedSegment): MovedSegment {
  return item.folded ? { ...item, segment: item.original, amount: 0, folded: false } : item;
}

/**
 * A folded run bends round corners flatter than this (cosine; 15 degrees) as it does round an arc,
 * and the cloth eases: an outline of many chords is not to be nicked at each of them.
 */
const eased = Math.cos(Math.PI / 12);

/**
 * Whether what is folded is cut for its fold between a segment and the next: at an outside corner.
 * Beside an edge of another kind a corner may be so flat that the end line would be longer than
 * `mitreLimit` times the amount: there the allowance steps, as where there is no corner.
 */
export function isFoldCorner(a: MovedSegment, b: MovedSegment, mitreLimit: number): boolean {
  if (!a.folded && !b.folded) return false;
  const { turn, ahead } = cornerOf(a, b);
  if (a.folded && b.folded) return turn > 0 && ahead <= eased;
  return turn > 0 && (ahead <= 0 || turn * mitreLimit >= 1);
}

/** Headings at the corner between two segments, and the sine and cosine of the turn. */
function cornerOf(a: MovedSegment, b: MovedSegment) {
  const [arriving, leaving] = [tangentAt(a.original, 1), tangentAt(b.original, 0)];
  return { arriving, leaving, turn: cross(arriving, leaving), ahead: dot(arriving, leaving) };
}

/**
 * The lines that end folded allowances at a fold corner of a counter-clockwise outline, in its direction.
 * What is folded must come to lie on its piece, with nothing sticking out:
 * - beside an edge of another kind it ends on the mirror image, in the folded edge's line at the corner,
 *   of the cut line beyond that corner, and so lies flush with that line once it is folded;
 * - beside another folded edge it ends on the mirror image of the corner's bisector, where the two meet
 *   as a mitre.
 * `lying` is the contour of the folded piece. null where arcs at an obtuse corner give the line no end:
 * there the allowance steps too. Throws NoOffset where a sharp corner gives it none.
 */
export function foldLines(
  a: MovedSegment,
  b: MovedSegment,
  lying: readonly CutPiece[],
): MovedSegment[] | null {
  if (a.folded && b.folded) return mitreLines(a, b, lying);
  const { arriving, leaving, ahead } = cornerOf(a, b);
  const [edge, neighbour] = a.folded ? [a, b] : [b, a];
  const fold = a.folded
    ? { corner: a.original.to, axis: arriving, depth: a.amount }
    : { corner: b.original.from, axis: leaving, depth: b.amount };
  const lines = mirroredCutLine(neighbour, lying, a.folded ? 1 : -1, fold);
  const ends = lines.length > 0 && meet(edge, lines.at(-1)!);
  if (ahead > 0 && !(ends && meet(neighbour, lines[0]!))) return null;
  if (!ends) throw new NoOffset('what is folded back has no end', fold.corner);
  return a.folded ? lines.reverse() : lines;
}

/** The step from a folded allowance to its neighbour's where there is next to no corner; none at an inside corner. */
export function stepLine(a: MovedSegment, b: MovedSegment): MovedSegment[] {
  if (a.folded === b.folded || cornerOf(a, b).turn < -smooth) return [];
  const [from, to] = [a.segment.to, b.segment.from];
  return distance(from, to) > samePoint ? [endLine({ from, to, bulge: 0 }, from)] : [];
}

function meet(a: MovedSegment, b: MovedSegment): boolean {
  return carrierCrossings(a.segment, b.segment).length > 0;
}

/** The end lines where two folded edges meet. The cut line between them may be used up. */
function mitreLines(a: MovedSegment, b: MovedSegment, lying: readonly CutPiece[]): MovedSegment[] {
  const corner = lying.find(({ of }) => of?.original === a.original)?.segment.to ?? a.original.to;
  const { arriving, leaving } = cornerOf(a, b);
  const bisector = unit(minus(leaving, arriving));
  const end = (axis: Point, depth: number): Point => {
    const image = minus(times(axis, 2 * dot(bisector, axis)), bisector);
    return plus(corner, times(image, depth / cross(image, axis)));
  };
  return [
    endLine({ from: end(arriving, a.amount), to: corner, bulge: 0 }, corner),
    endLine({ from: corner, to: end(leaving, b.amount), bulge: 0 }, corner),
  ];
}

function endLine(segment: Segment, endsAt: Point): MovedSegment {
  return { original: segment, segment, amount: 0, folded: false, endsAt };
}

/** A corner of a folded edge: the edge runs along `axis` there and is folded back by `depth` mm. */
interface Fold {
  readonly corner: Point;
  readonly axis: Point;
  readonly depth: number;
}

/**
 * The mirror image in a folded edge of the folded piece's contour, from the edge's corner with a
 * neighbour and past it (step 1: onwards, -1: backwards) until it is as far from the edge as the fold
 * is deep. It runs against the contour, and so has its own outside to the right too.
 */
function mirroredCutLine(
  neighbour: MovedSegment,
  lying: readonly CutPiece[],
  step: 1 | -1,
  fold: Fold,
): MovedSegment[] {
  const lines: MovedSegment[] = [];
  const first = lying.findIndex(({ of }) => of?.original === neighbour.original);
  let reached = 0;
  for (
    let i = first;
    i >= 0 && reached < fold.depth;
    i = (i + step + lying.length) % lying.length
  ) {
    const segment = mirrored(lying[i]!.segment, fold);
    const end = step === 1 ? segment.from : segment.to;
    const depth = cross(minus(end, fold.corner), fold.axis);
    if (depth <= reached) break;
    const line = endLine(segment, fold.corner);
    // The first is joined to the neighbour itself, as the outline of one amount that the two are.
    const { original, amount } = neighbour;
    lines.push(i === first ? { ...line, original: mirrored(original, fold), amount } : line);
    reached = depth;
  }
  return lines;
}

/** The image in a line, run the other way. A mirror changes the sign of a bulge, and so does turning round. */
function mirrored({ from, to, bulge }: Segment, { corner, axis }: Fold): Segment {
  const image = (p: Point): Point => {
    const arm = minus(p, corner);
    return plus(corner, minus(times(axis, 2 * dot(arm, axis)), arm));
  };
  return { from: image(to), to: image(from), bulge };
}
