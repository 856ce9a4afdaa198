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

/** Where the tip is: up and travelling, down and cutting, or held shallow while it swivels. */
export const tipUp = 0;
export const tipDown = 1;
export const tipShallow = 2;

/** A point of the tip's way, mm as it lies on the bed with the roll's start at 0. */
export interface RehearsedPoint extends Point {
  /** Seconds from the start of the program. */
  readonly at: number;
  readonly tip: typeof tipUp | typeof tipDown | typeof tipShallow;
  /** Of the program, counted from 1. */
  readonly line: number;
}

/** Where the roll is fed on, and what is then under the knife. */
interface RehearsedBite {
  /** mm fed before. */
  readonly fed: number;
  /** The first point of it. */
  readonly first: number;
  /** Seconds from the start. */
  readonly at: number;
}

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

/** mm that a straight piece may leave the arc it stands for: nothing that is seen. */
const chordError = 0.2;
/** mm */
const sameSpot = 0.02;

/**
 * The way of the tip that a program makes, from its words alone, with the times that the profile's
 * feeds and accelerations give it (`estimate`).
 * Operator's stops take no time.
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
 * Where the tip goes into the material. A trailing tip lies behind the axis, which is what was shown until then.
 * null: it does nothing there.
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

/** The ends of the pieces that a move is gone in; the time goes by evenly along its way. */
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
    // In the material a trailing tip stays where it is while its axis goes round it, or up.
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
