import type { Point } from '../../geometry/paths/point.ts';

/** The position of the machine: mm, and degrees of the axis that turns the knife. */
export interface MachinePosition extends Point {
  readonly z: number;
  readonly deg: number;
}

interface Motion {
  /** Line of the program, counted from 1. */
  readonly line: number;
  readonly from: MachinePosition;
  readonly to: MachinePosition;
}

/** The feed is in mm/min, or in degrees/min if only the axis that turns the knife moves. */
interface FeedMotion extends Motion {
  readonly feed: number;
}

export interface ArcMotion extends FeedMotion {
  readonly kind: 'arc';
  readonly centre: Point;
  readonly radius: number;
  /** Counter-clockwise positive; 360 for a full circle. */
  readonly sweepDeg: number;
  /**
   * Whether the arc is written with R instead of I and J. Near a half turn R does not fix the centre
   * well, so this product reads it but never writes it.
   */
  readonly byRadius: boolean;
}

export type MotionAction =
  | (Motion & { readonly kind: 'rapid' })
  | (FeedMotion & { readonly kind: 'line' })
  | ArcMotion;

/** One thing that a program makes the machine do. */
export type Action =
  | MotionAction
  | { readonly kind: 'dwell'; readonly line: number; readonly seconds: number }
  | { readonly kind: 'spindle'; readonly line: number; readonly on: boolean }
  /** M7 or M8 work the punch, M9 lets it go. */
  | { readonly kind: 'punch'; readonly line: number; readonly word: 'M7' | 'M8' | 'M9' }
  | { readonly kind: 'stop'; readonly line: number }
  | { readonly kind: 'message'; readonly line: number; readonly text: string }
  /** A comment, wrapped over several lines or not, after the first words of the program. */
  | { readonly kind: 'note'; readonly line: number; readonly text: string }
  | { readonly kind: 'end'; readonly line: number };

/** A program that was read back. */
export interface Program {
  readonly file: string;
  /** The unit in which the program is written. Actions are in mm in any case. */
  readonly units: 'mm' | 'in';
  /** The comments before the first words. */
  readonly head: readonly CommentLine[];
  readonly actions: readonly Action[];
  /** The text, line by line. */
  readonly lines: readonly string[];
}

/** A comment that fills a line, or stands in one. */
export interface CommentLine {
  readonly line: number;
  readonly text: string;
}

export function isMotion(action: Action): action is MotionAction {
  return action.kind === 'rapid' || action.kind === 'line' || action.kind === 'arc';
}

/** Whether a motion moves the axis over the bed. */
export function movesOverBed({ kind, from, to }: MotionAction): boolean {
  return kind === 'arc' || from.x !== to.x || from.y !== to.y;
}
