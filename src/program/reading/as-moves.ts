import type { Cutter } from '../../knife/cutter.ts';
import type { Move } from '../../knife/moves.ts';
import type { Action, MotionAction, Program } from './actions.ts';
import { isMotion, movesOverBed } from './actions.ts';
import { feedLength, isAtTravelHeight } from './trace.ts';

/** A move that a program makes, and the motion behind it; null: nothing moves. */
export interface MoveOfProgram {
  readonly move: Move;
  readonly motion: MotionAction | null;
  /** Line of the program, counted from 1. */
  readonly line: number;
}

/**
 * Turns a program that was read back into moves of the knife, so that its times can be estimated like
 * those of a plan. A rapid motion that also turns the knife becomes a turn and a travel.
 */
export function movesOfProgram({ actions }: Program, cutter: Cutter): MoveOfProgram[] {
  return actions.flatMap((action) => movesOfAction(action, cutter));
}

function movesOfAction(action: Action, cutter: Cutter): MoveOfProgram[] {
  const { line } = action;
  if (isMotion(action)) {
    return movesOfMotion(action, cutter).map((move) => ({ move, motion: action, line }));
  }
  const alone = (move: Move): MoveOfProgram[] => [{ move, motion: null, line }];
  if (action.kind === 'punch' && action.word === cutter.punch?.word)
    return alone({ kind: 'punch' });
  if (action.kind !== 'message') return [];
  const length = feedLength(action.text);
  return alone(
    length === undefined ? { kind: 'note', text: action.text } : { kind: 'feed', length },
  );
}

function movesOfMotion(motion: MotionAction, cutter: Cutter): Move[] {
  const { from, to } = motion;
  const isUp = isAtTravelHeight(to.z, cutter);
  if (from.z !== to.z) return [isUp ? { kind: 'lift' } : { kind: 'lower', z: to.z }];
  const deg = cutter.knife.kind === 'tangential' ? to.deg : null;
  if (!movesOverBed(motion)) return [{ kind: 'turn', deg: to.deg }];
  if (motion.kind === 'arc') {
    const { centre, sweepDeg } = motion;
    return [{ kind: 'arc', to, centre, sweepDeg, deg }];
  }
  if (motion.kind === 'line') return [{ kind: 'line', to, deg }];
  const turn: Move[] = from.deg === to.deg ? [] : [{ kind: 'turn', deg: to.deg }];
  return [...turn, { kind: 'travel', to }];
}
