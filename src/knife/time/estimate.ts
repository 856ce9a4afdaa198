import { headingDeg, turnDeg } from '../../geometry/paths/angle.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { distance, leftOf, minus, times } from '../../geometry/paths/point.ts';
import type { Cutter } from '../cutter.ts';
import type { Move } from '../moves.ts';
import type { WayPiece } from './speeds.ts';
import { secondsFromRest, secondsOfWay } from './speeds.ts';

/** How far the knife travels over some moves, and how long they take. */
export interface Estimate {
  /** Length that the axis goes with the knife up, mm. */
  readonly travelLength: number;
  readonly minutes: number;
  /** Seconds from the start at which each move ends. */
  readonly ends: Float64Array;
  /** For each note, when what it announces is begun: minutes from the start. */
  readonly begun: readonly { readonly text: string; readonly minutes: number }[];
}

type StrokeMove = Extract<Move, { kind: 'line' | 'arc' }>;

/** One line or arc, and the direction in which it ends. */
interface StrokePiece extends WayPiece {
  readonly endDeg: number;
}

/**
 * Travel and time of moves, from the feeds and accelerations of the profile.
 *
 * The idea: lines and arcs that follow each other with the knife down are one chain that is gone without
 * a stop. It is slowed at corners, on arcs to the speed sqrt(a R) at which the drive holds them, and to
 * what the axis of the knife can turn. Every other move begins and ends at rest. Dwells of oscillation
 * and punch count; the operator's time at stops does not. The knife begins up, over (0, 0), at heading 0.
 */
export function estimate(moves: readonly Move[], cutter: Cutter): Estimate {
  const { heights, feeds, motion, knife } = cutter;
  const drive = { acceleration: motion.acceleration, jump: motion.cornerJump / 60 };
  const alone = (length: number, feed: number): number =>
    secondsFromRest(length, feed / 60, drive.acceleration);
  let at: Point = { x: 0, y: 0 };
  let [deg, z] = [0, heights.travel];
  let isOn = false;
  let seconds = 0;
  let travelLength = 0;
  let chain: StrokePiece[] = [];
  const ends = new Float64Array(moves.length);
  const begun: { text: string; minutes: number }[] = [];
  /** Adds the time of the chain, which ends with the move before `next`. */
  const goChain = (next: number): void => {
    for (const [k, took] of secondsOfWay(chain, drive).entries()) {
      seconds += took;
      ends[next - chain.length + k] = seconds;
    }
    chain = [];
  };
  for (const [i, move] of moves.entries()) {
    if (move.kind === 'line' || move.kind === 'arc') {
      chain.push(pieceOf(move, at, deg, chain.at(-1), cutter));
      at = move.to;
      deg = move.deg ?? deg;
      continue;
    }
    goChain(i);
    switch (move.kind) {
      case 'travel':
      case 'check':
        seconds += alone(distance(at, move.to), feeds.travel);
        travelLength += distance(at, move.to);
        at = move.to;
        break;
      case 'turn':
        seconds += turnSeconds(move.deg - deg, cutter);
        deg = move.deg;
        break;
      case 'lower':
        if (!isOn && knife.kind === 'tangential') seconds += knife.oscillation?.dwell ?? 0;
        isOn = true;
        seconds += alone(Math.abs(move.z - z), feeds.plunge);
        z = move.z;
        break;
      case 'lift':
        seconds += alone(heights.travel - z, feeds.travel);
        z = heights.travel;
        break;
      case 'punch':
        seconds += cutter.punch?.dwell ?? 0;
        isOn = false;
        break;
      case 'feed':
        seconds += alone(move.length, feeds.travel);
        isOn = false;
        break;
      case 'note':
        begun.push({ text: move.text, minutes: seconds / 60 });
        break;
    }
    ends[i] = seconds;
  }
  goChain(moves.length);
  return { travelLength, minutes: seconds / 60, ends, begun };
}

function turnSeconds(deg: number, { knife }: Cutter): number {
  if (knife.kind !== 'tangential') return 0;
  return secondsFromRest(Math.abs(deg), knife.axis.feed / 60, knife.axis.acceleration);
}

function pieceOf(
  move: StrokeMove,
  from: Point,
  deg: number,
  before: StrokePiece | undefined,
  cutter: Cutter,
): StrokePiece {
  const [startDeg, endDeg] = directionsOf(move, from);
  const length = strokeLength(move, from);
  return {
    length,
    speed: speedOf(move, length, deg, cutter),
    turnDeg: before === undefined ? 0 : turnDeg(before.endDeg, startDeg),
    endDeg,
  };
}

/**
 * The speed in mm/s: the cutting feed, but no more than the drive can hold on an arc and the knife's axis
 * can turn.
 */
function speedOf(
  move: StrokeMove,
  length: number,
  deg: number,
  { feeds, motion, knife }: Cutter,
): number {
  const feed = feeds.cut / 60;
  const held =
    move.kind === 'arc'
      ? Math.sqrt(motion.acceleration * distance(move.to, move.centre))
      : Infinity;
  const turn = move.deg === null ? 0 : Math.abs(move.deg - deg);
  const turned =
    knife.kind === 'tangential' && turn > 0 ? (length * knife.axis.feed) / 60 / turn : Infinity;
  return Math.min(feed, held, turned);
}

/** The direction at the start and at the end of a line or arc, degrees. */
function directionsOf(move: StrokeMove, from: Point): [start: number, end: number] {
  if (move.kind === 'line') {
    const way = headingDeg(minus(move.to, from));
    return [way, way];
  }
  const tangent = (p: Point): number =>
    headingDeg(times(leftOf(minus(p, move.centre)), Math.sign(move.sweepDeg)));
  return [tangent(from), tangent(move.to)];
}

function strokeLength(move: StrokeMove, from: Point): number {
  if (move.kind === 'line') return distance(from, move.to);
  return (distance(move.to, move.centre) * Math.abs(move.sweepDeg) * Math.PI) / 180;
}
