import type { Point } from '../geometry/point.ts';
import { distance } from '../geometry/point.ts';
import type { Cutter } from './cutter.ts';
import type { Move } from './moves.ts';

export interface Estimate {
  /** mm the axis goes with the knife up. */
  readonly travelLength: number;
  readonly minutes: number;
}

interface Machine {
  readonly at: Point;
  readonly deg: number;
  readonly z: number;
}

/**
 * Lengths of the axis over the feeds of the profile: cut length / cut feed + (travel + lifts + roll
 * fed) / travel feed + lowering / plunge feed + degrees turned on the spot / the axis's feed, and the
 * dwell of an oscillating knife once a bite. Accelerations and the operator's time at a feed are not
 * in it. The knife starts up, over 0, 0, heading 0.
 */
export function estimate(moves: readonly Move[], cutter: Cutter): Estimate {
  let machine: Machine = { at: { x: 0, y: 0 }, deg: 0, z: cutter.heights.travel };
  let travelLength = 0;
  let minutes = dwellMinutes(moves, cutter);
  for (const move of moves) {
    if (move.kind === 'travel') travelLength += distance(machine.at, move.to);
    minutes += minutesOf(move, machine, cutter);
    machine = after(move, machine, cutter);
  }
  return { travelLength, minutes };
}

function minutesOf(move: Move, { at, deg, z }: Machine, cutter: Cutter): number {
  const { feeds, heights, knife } = cutter;
  switch (move.kind) {
    case 'travel':
    case 'check':
      return distance(at, move.to) / feeds.travel;
    case 'turn':
      return knife.kind === 'tangential' ? Math.abs(move.deg - deg) / knife.axis.feed : 0;
    case 'lower':
      return Math.abs(move.z - z) / feeds.plunge;
    case 'lift':
      return (heights.travel - z) / feeds.travel;
    case 'line':
    case 'arc':
      return strokeLength(at, move) / feeds.cut;
    case 'feed':
      return move.length / feeds.travel;
    case 'punch':
    case 'note':
      return 0;
  }
}

function after(move: Move, machine: Machine, { heights }: Cutter): Machine {
  switch (move.kind) {
    case 'travel':
    case 'check':
      return { ...machine, at: move.to };
    case 'turn':
      return { ...machine, deg: move.deg };
    case 'lower':
      return { ...machine, z: move.z };
    case 'lift':
      return { ...machine, z: heights.travel };
    case 'line':
    case 'arc':
      return { ...machine, at: move.to, deg: move.deg ?? machine.deg };
    case 'punch':
    case 'feed':
    case 'note':
      return machine;
  }
}

function strokeLength(from: Point, move: Extract<Move, { kind: 'line' | 'arc' }>): number {
  if (move.kind === 'line') return distance(from, move.to);
  return (distance(move.to, move.centre) * Math.abs(move.sweepDeg) * Math.PI) / 180;
}

function dwellMinutes(moves: readonly Move[], { knife }: Cutter): number {
  if (knife.kind !== 'tangential' || knife.oscillation === undefined) return 0;
  const bites = 1 + moves.filter(({ kind }) => kind === 'feed').length;
  return (bites * knife.oscillation.dwell) / 60;
}
