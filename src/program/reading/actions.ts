import type { Point } from '../../geometry/paths/point.ts';

/** Where the machine stands: mm, and degrees of the axis that turns the knife. */
export interface MachinePosition extends Point {
  readonly z: number;
  readonly deg: number;
}

interface Motion {
  /** Of the program, counted from 1. */
  readonly line: number;
  readonly from: MachinePosition;
  readonly to: MachinePosition;
}

/** mm/min; degrees/min where the axis that turns the knife moves alone. */
interface FeedMotion extends Motion {
  readonly feed: number;
}

export interface ArcMotion extends FeedMotion {
  readonly kind: 'arc';
  readonly centre: Point;
  readonly radius: number;
  /** Counter-clockwise positive; 360 for a full circle. */
  readonly sweepDeg: number;
  /** Written by R instead of I and J: read, but ill-conditioned near a half turn, and never written. */
  readonly byRadius: boolean;
}

export type MotionAction =
  | (Motion & { readonly kind: 'rapid' })
  | (FeedMotion & { readonly kind: 'line' })
  | ArcMotion;

/** What a program makes the machine do, in order. */
export type Action =
  | MotionAction
  | { readonly kind: 'dwell'; readonly line: number; readonly seconds: number }
  | { readonly kind: 'spindle'; readonly line: number; readonly on: boolean }
  /** M7 or M8 work the punch, M9 lets it go. */
  | { readonly kind: 'punch'; readonly line: number; readonly word: 'M7' | 'M8' | 'M9' }
  | { readonly kind: 'stop'; readonly line: number }
  | { readonly kind: 'message'; readonly line: number; readonly text: string }
  | { readonly kind: 'end'; readonly line: number };

export interface Program {
  readonly file: string;
  /** What its numbers are written in; actions are in mm. */
  readonly units: 'mm' | 'in';
  readonly actions: readonly Action[];
}

export function isMotion(action: Action): action is MotionAction {
  return action.kind === 'rapid' || action.kind === 'line' || action.kind === 'arc';
}

/** Whether the axis goes anywhere over the bed. */
export function movesOverBed({ kind, from, to }: MotionAction): boolean {
  return kind === 'arc' || from.x !== to.x || from.y !== to.y;
}
