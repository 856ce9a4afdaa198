import { distance } from '../../geometry/paths/point.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { flatten } from '../../geometry/paths/flatten.ts';
import type { Segment } from '../../geometry/paths/segment.ts';
import { estimate } from '../../knife/time/estimate.ts';
import type { Cutter } from '../../knife/cutter.ts';
import type { Program } from './actions.ts';
import type { MoveOfProgram } from './as-moves.ts';
import { movesOfProgram } from './as-moves.ts';
import type { Stroke } from './trace.ts';
import { isAtCutDepth, isAtTravelHeight, traceProgram } from './trace.ts';

/** The height of the tip: up and travelling, down and cutting, or held shallow while it swivels. */
export const tipUp = 0;
export const tipDown = 1;
export const tipShallow = 2;

/** A point of the way of the tip, mm, in the frame of the lay as it lies on the bed. */
export interface RehearsedPoint extends Point {
  /** Seconds from the start of the program. */
  readonly at: number;
  readonly tip: typeof tipUp | typeof tipDown | typeof tipShallow;
  /** Line of the program, counted from 1. */
  readonly line: number;
}

/** A bite of the rehearsal. */
interface RehearsedBite {
  /** How far the roll has been fed, mm. */
  readonly fed: number;
  /** The index of its first point. */
  readonly first: number;
  /** Seconds from the start of the program. */
  readonly at: number;
}

/**
 * What a program does, point by point, for showing it on a screen. `point` is the index of the next point
 * when a message comes.
 */
export interface Rehearsed {
  readonly points: readonly RehearsedPoint[];
  readonly bites: readonly RehearsedBite[];
  readonly messages: readonly {
    readonly point: number;
    readonly line: number;
    readonly text: string;
  }[];
  readonly seconds: number;
}

/** How far a straight piece may be from the arc that it stands for, mm. Nobody can see that much. */
const chordError = 0.2;
/** Points nearer to each other than this are the same place, mm. */
const sameSpot = 0.02;

/**
 * The way of the tip, from the words of a program alone, with the times that the feeds and accelerations
 * of the profile give it (see `estimate`). Stops for the operator take no time.
 */
export function rehearse(program: Program, cutter: Cutter): Rehearsed {
  const made = movesOfProgram(program, cutter);
  const { ends } = estimate(
    made.map(({ move }) => move),
    cutter,
  );
  const { strokes, swivels } = traceProgram(program, cutter);
  const held = segmentsByLine([...strokes, ...swivels]);
  const points: RehearsedPoint[] = [];
  const messages: { point: number; line: number; text: string }[] = [];
  let fed = 0;
  const bites = [{ fed, first: 0, at: 0 }];
  for (const [i, one] of made.entries()) {
    const [from, to] = [ends[i - 1] ?? 0, ends[i]!];
    if (one.move.kind === 'note') {
      messages.push({ point: points.length, line: one.line, text: one.move.text });
    } else if (one.move.kind === 'feed') {
      fed += one.move.length;
      bites.push({ fed, first: points.length, at: to });
    } else if (one.motion !== null) {
      const entry = one.move.kind === 'lower' ? entryOf(made, i, held) : null;
      const before = points.at(-1);
      if (entry !== null && (before === undefined || distance(before, entry) > sameSpot)) {
        points.push({
          x: entry.x,
          y: entry.y,
          at: from,
          tip: tipAt(one.motion.from.z, cutter),
          line: one.line,
        });
      }
      points.push(...pointsOf(one, fed, held, from, to, cutter, points.at(-1)));
    }
  }
  return { points, bites, messages, seconds: ends.at(-1) ?? 0 };
}

function segmentsByLine(strokes: readonly Stroke[]): Map<number, Segment[]> {
  const byLine = new Map<number, Segment[]>();
  for (const { steps } of strokes) {
    for (const { line, segment } of steps) {
      const known = byLine.get(line);
      if (known === undefined) byLine.set(line, [segment]);
      else known.push(segment);
    }
  }
  return byLine;
}

/**
 * The place where the tip goes into the material. The tip of a trailing knife lies behind the axis, and
 * until here the place of the axis was shown. null: it does nothing there.
 */
function entryOf(
  made: readonly MoveOfProgram[],
  lowering: number,
  held: ReadonlyMap<number, readonly Segment[]>,
): Point | null {
  for (let i = lowering + 1; i < made.length && made[i]!.move.kind !== 'lift'; i++) {
    const way = held.get(made[i]!.line);
    if (way !== undefined) return way[0]!.from;
  }
  return null;
}

function tipAt(z: number, cutter: Cutter): RehearsedPoint['tip'] {
  if (isAtTravelHeight(z, cutter)) return tipUp;
  return isAtCutDepth(z, cutter) ? tipDown : tipShallow;
}

/** The points that a move adds. The time passes evenly along its way. */
function pointsOf(
  { move, motion, line }: MoveOfProgram,
  fed: number,
  held: ReadonlyMap<number, readonly Segment[]>,
  from: number,
  to: number,
  cutter: Cutter,
  before: Point | undefined,
): RehearsedPoint[] {
  const end = motion!.to;
  const tip = tipAt(end.z, cutter);
  const isStroke = move.kind === 'line' || move.kind === 'arc';
  const ways = isStroke && tip !== tipUp ? (held.get(line) ?? []) : [];
  if (ways.length === 0) {
    // A trailing tip stays in its place in the material while the axis goes round it, or up.
    const stays = cutter.knife.kind === 'trailing' && (tip !== tipUp || move.kind === 'lift');
    const { x, y } = stays && before !== undefined ? before : { x: end.x + fed, y: end.y };
    return [{ x, y, at: to, tip, line }];
  }
  const corners = [ways[0]!.from, ...ways.flatMap(endsOf)];
  const lengths = corners.map((corner, i) => (i === 0 ? 0 : distance(corners[i - 1]!, corner)));
  const whole = lengths.reduce((sum, length) => sum + length, 0) || 1;
  let gone = 0;
  return corners.slice(1).map(({ x, y }, i): RehearsedPoint => {
    gone += lengths[i + 1]!;
    return { x, y, at: from + ((to - from) * gone) / whole, tip, line };
  });
}

function endsOf({ from, to, bulge }: Segment): Point[] {
  if (bulge === 0) return [to];
  const path = {
    closed: false,
    vertices: [
      { ...from, bulge },
      { ...to, bulge: 0 },
    ],
  };
  return flatten(path, chordError).slice(1);
}
