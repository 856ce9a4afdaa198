import { carrierCrossings } from '../relations/crossings.ts';
import type { CutPiece, MovedSegment } from './moved.ts';
import { smooth } from './moved.ts';
import { NoOffset } from './no-offset.ts';
import type { Point } from '../paths/point.ts';
import { cross, distance, dot, minus, plus, times, unit } from '../paths/point.ts';
import type { Segment } from '../paths/segment.ts';
import { tangentAt } from '../paths/segment.ts';
import { samePoint } from '../paths/tolerance.ts';

/**
 * A segment as it lies once its allowance is folded back: a folded segment is then an edge at its
 * original line.
 */
export function asFolded(item: MovedSegment): MovedSegment {
  return item.folded ? { ...item, segment: item.original, amount: 0, folded: false } : item;
}

/**
 * The cosine of 15 degrees. Where two folded edges meet at a flatter corner, the allowance bends round it
 * as round an arc, and the cloth gives way. Otherwise an outline of many short chords would be cut into
 * at every one.
 */
const eased = Math.cos(Math.PI / 12);

/**
 * Whether the allowance of a folded edge gets an end line at the corner between a and the next segment b.
 * That is the case at outside corners only. If just one of the two is folded and the corner is so flat
 * that the end line would be longer than `mitreLimit` times the amount, it gets none: the cut line then
 * steps from one amount to the other.
 */
export function isFoldCorner(a: MovedSegment, b: MovedSegment, mitreLimit: number): boolean {
  if (!a.folded && !b.folded) return false;
  const { turn, ahead } = cornerOf(a, b);
  if (a.folded && b.folded) return turn > 0 && ahead <= eased;
  return turn > 0 && (ahead <= 0 || turn * mitreLimit >= 1);
}

/**
 * The headings at the corner between two segments, and the sine (`turn`) and cosine (`ahead`) of the turn
 * there.
 */
function cornerOf(a: MovedSegment, b: MovedSegment) {
  const [arriving, leaving] = [tangentAt(a.original, 1), tangentAt(b.original, 0)];
  return { arriving, leaving, turn: cross(arriving, leaving), ahead: dot(arriving, leaving) };
}

/**
 * The lines that end the folded allowance at a corner of a counter-clockwise outline, in its direction.
 * Only for corners that isFoldCorner names.
 *
 * The idea: once it is folded back, the allowance must lie on its piece and stick out nowhere.
 * - If only one of the edges is folded, the allowance must then end flush with the cut line of the
 *   other edge. Unfolded, that end is the mirror image of the other cut line in the folded edge.
 * - If both are folded, the two allowances must meet on the bisector of the corner, as a mitre.
 *   Unfolded, each end is the mirror image of that bisector in its own edge.
 *
 * `lying` is the cut line of the piece with all allowances folded back. null: the corner is obtuse and,
 * because of arcs, the mirrored line misses the allowance or the other cut line; the cut line steps there
 * instead. Throws NoOffset if it misses the allowance at a sharp corner.
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

/**
 * The step between a folded allowance and its neighbour where the corner gets no end lines. Empty if both
 * are folded or neither, if there is no step, and at an inside corner.
 */
export function stepLine(a: MovedSegment, b: MovedSegment): MovedSegment[] {
  if (a.folded === b.folded || cornerOf(a, b).turn < -smooth) return [];
  const [from, to] = [a.segment.to, b.segment.from];
  return distance(from, to) > samePoint ? [endLine({ from, to, bulge: 0 }, from)] : [];
}

function meet(a: MovedSegment, b: MovedSegment): boolean {
  return carrierCrossings(a.segment, b.segment).length > 0;
}

/** The end lines where two folded edges meet. The cut line between them may have been trimmed away. */
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

/** A corner of a folded edge. The edge has the heading `axis` there and is folded back by `depth` mm. */
interface Fold {
  readonly corner: Point;
  readonly axis: Point;
  readonly depth: number;
}

/**
 * The mirror image, in a folded edge, of the folded piece's cut line. It begins with the neighbour at the
 * edge's corner and goes on away from the corner (step 1: forwards along the cut line, -1: backwards)
 * until it is as far from the edge as the fold is deep. Each mirrored segment is run the other way, so
 * that it has its outside to the right, as the cut line has.
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
    // The first line meets the neighbour itself. With the neighbour's amount and its mirrored original,
    // the two are joined like two segments of one outline that were moved by one amount.
    const { original, amount } = neighbour;
    lines.push(i === first ? { ...line, original: mirrored(original, fold), amount } : line);
    reached = depth;
  }
  return lines;
}

/**
 * The mirror image in the line of the fold, run the other way. A mirror negates the bulge, and so does
 * the change of direction: it stays as it is.
 */
function mirrored({ from, to, bulge }: Segment, { corner, axis }: Fold): Segment {
  const image = (p: Point): Point => {
    const arm = minus(p, corner);
    return plus(corner, minus(times(axis, 2 * dot(arm, axis)), arm));
  };
  return { from: image(to), to: image(from), bulge };
}
