import type { Point } from '../../geometry/paths/point.ts';
import { between, distance, dot, minus, plus } from '../../geometry/paths/point.ts';
import type { Segment } from '../../geometry/paths/segment.ts';
import { bulgeOf } from '../../geometry/paths/segment.ts';
import { rotation, transformPoint } from '../../geometry/paths/transform.ts';
import type { Cutter, TrailingKnife } from '../../knife/cutter.ts';
import type { ArcMotion, MotionAction, Program } from './actions.ts';
import { isMotion, movesOverBed } from './actions.ts';
import type { Dragged } from './tractrix.ts';
import { dragStraight, tipOf } from './tractrix.ts';

/** A piece of the tip's way, in the lay's frame, and the line of the program that made it. */
interface TipStep {
  readonly segment: Segment;
  readonly line: number;
}

/**
 * The way of the tip from one lowering of the knife to its next lift, in the lay's frame, as the program
 * says it.
 */
export interface Stroke {
  readonly file: string;
  /** How far the roll had been fed, mm. */
  readonly fed: number;
  /** What the note before it says. Empty: there is none. */
  readonly note: string;
  readonly steps: readonly TipStep[];
}

/** A feed of the roll that a message announces. */
export interface RollFeed {
  readonly line: number;
  readonly length: number;
}

/** A place at which the knife is shown, or the punch works, in the lay's frame. */
export interface KnifePlace {
  readonly line: number;
  /** What the note before it says. Empty: there is none. */
  readonly note: string;
  readonly at: Point;
  /** How far the roll had been fed, mm. */
  readonly fed: number;
}

/** What a program makes the tip of the knife and the punch do. */
export interface Trace {
  /** The strokes that the tip makes at cut depth. */
  readonly strokes: readonly Stroke[];
  /** The ways of a trailing tip while it is held shallow to swivel. It should stay in its place. */
  readonly swivels: readonly Stroke[];
  readonly feeds: readonly RollFeed[];
  /** The places where holes are punched. */
  readonly punches: readonly KnifePlace[];
  /** The places at which the knife is shown over what should be a registration mark. */
  readonly checks: readonly KnifePlace[];
}

/**
 * Heights that differ by less than this (mm) are the same: programs have at least three decimals in mm or
 * four in inches.
 */
const sameHeight = 0.002;
/**
 * An arc of the axis of a dragged knife is replaced by straight pieces that leave it by this at most, mm.
 */
const arcError = 0.002;
/**
 * A tip this near to its circle (mm) is taken to go round on it. If it were dragged on, it would only
 * come nearer.
 */
const steady = 0.01;
/** The longest piece (mm) in one step while a dragged tip still swings. */
const swingStep = 0.5;
/**
 * If the heading is less than this (radians) off the direction of travel, the way of the tip counts as
 * straight: that is 0.015 mm for the longest offset.
 */
const aligned = 5e-4;
/** A trailing knife that was set by eye may be this many degrees off before it is led in. */
const byEyeDeg = 90;
/** A tip that moves less than this (mm) stands still. */
const still = 0.005;

/**
 * Whether a place is reached before a stroke begins, in one program or in the programs of single bites.
 */
export function isBefore({ fed, line }: KnifePlace, stroke: Stroke): boolean {
  return fed === stroke.fed ? line < stroke.steps[0]!.line : fed < stroke.fed;
}

/** Whether a height Z (mm) is the depth for cutting, or deeper. */
export function isAtCutDepth(z: number, cutter: Cutter): boolean {
  return z <= cutter.heights.cut + sameHeight;
}

/** Whether a height Z (mm) is the height for travel, or more. */
export function isAtTravelHeight(z: number, cutter: Cutter): boolean {
  return z >= cutter.heights.travel - sameHeight;
}

/** Whether a height Z (mm) is that at which a trailing knife swivels. */
export function isAtSwivelDepth(z: number, { knife }: Cutter): boolean {
  return knife.kind === 'trailing' && Math.abs(z - knife.swivelDepth) <= sameHeight;
}

/**
 * The way of the tip, from the program alone. `fedBefore`: how far the roll was fed before the program,
 * mm.
 *
 * For a tangential knife the tip is the axis. The tip of a trailing knife is dragged behind the axis,
 * step by step (see dragStraight), while it is in the material; while it is up it keeps its heading. It
 * begins at heading 0, or, if the profile has a lead-in, across the lead-in: that is the worst that is
 * allowed.
 */
export function traceProgram(program: Program, cutter: Cutter, fedBefore = 0): Trace {
  const strokes: Stroke[] = [];
  const swivels: Stroke[] = [];
  const feeds: RollFeed[] = [];
  const punches: KnifePlace[] = [];
  const checks: KnifePlace[] = [];
  const heading = hasLeadIn(cutter) ? (byEyeDeg * Math.PI) / 180 : 0;
  let fed = fedBefore;
  let note = '';
  let steps: TipStep[] = [];
  let knife: Dragged = { axis: { x: 0, y: 0 }, heading };
  const spot = (line: number, offset: Point = { x: 0, y: 0 }): KnifePlace => {
    const { x, y } = plus(knife.axis, offset);
    return { line, note, at: { x: x + fed, y }, fed };
  };
  for (const action of program.actions) {
    if (action.kind === 'note') note = action.text;
    if (action.kind === 'punch' && action.word === cutter.punch?.word) {
      const [x, y] = cutter.punch.offset;
      punches.push(spot(action.line, { x, y }));
    }
    if (action.kind === 'message') {
      if (isCheck(action.text)) checks.push(spot(action.line));
      const length = feedLength(action.text);
      if (length === undefined) continue;
      feeds.push({ line: action.line, length });
      fed += length;
      // Whoever pulls the roll may touch the knife: its heading is unknown again.
      if (hasLeadIn(cutter)) knife = { axis: knife.axis, heading };
    }
    if (!isMotion(action)) continue;
    if (action.from.z !== action.to.z) steps = [];
    if (!movesOverBed(action)) continue;
    const { z } = action.from;
    const held = z === action.to.z && (isAtCutDepth(z, cutter) || isAtSwivelDepth(z, cutter));
    const moved = moveTip(action, knife, cutter, held);
    knife = moved.knife;
    if (!held || moved.segments.length === 0) continue;
    if (steps.length === 0) {
      (isAtCutDepth(z, cutter) ? strokes : swivels).push({ file: program.file, fed, note, steps });
    }
    steps.push(
      ...moved.segments.map((segment) => ({ segment: along(segment, fed), line: action.line })),
    );
  }
  return { strokes, swivels, feeds, punches, checks };
}

function hasLeadIn({ knife }: Cutter): boolean {
  return knife.kind === 'trailing' && knife.leadIn !== undefined;
}

/** The length of a feed in mm, if this is the message that this product writes before one. */
export function feedLength(message: string): number | undefined {
  const match = /^FEED (\d+(?:\.\d+)?) (MM|IN)\b/.exec(message);
  return match === null ? undefined : Number(match[1]) * (match[2] === 'IN' ? 25.4 : 1);
}

/** Whether a message asks to see the knife over a registration mark. */
export function isCheck(message: string): boolean {
  return message.startsWith('CHECK');
}

function along({ from, to, bulge }: Segment, fed: number): Segment {
  return { from: { x: from.x + fed, y: from.y }, to: { x: to.x + fed, y: to.y }, bulge };
}

function moveTip(
  motion: MotionAction,
  before: Dragged,
  { knife }: Cutter,
  held: boolean,
): { segments: Segment[]; knife: Dragged } {
  if (knife.kind === 'tangential') {
    return { segments: segmentsOfMotion(motion), knife: { ...before, axis: motion.to } };
  }
  if (!held) return { segments: [], knife: { ...before, axis: motion.to } };
  return dragged(motion, { ...before, axis: motion.from }, knife);
}

/**
 * The way of the axis as segments. A full circle comes in two halves, because a bulge cannot express it
 * whole.
 */
export function segmentsOfMotion(motion: MotionAction): Segment[] {
  const { from, to } = motion;
  if (motion.kind !== 'arc') return [{ from, to, bulge: 0 }];
  const sweep = (motion.sweepDeg * Math.PI) / 180;
  if (Math.abs(motion.sweepDeg) < 270) return [{ from, to, bulge: bulgeOf(sweep) }];
  const middle = onArc(motion.centre, from, motion.sweepDeg / 2);
  const bulge = bulgeOf(sweep / 2);
  return [
    { from, to: middle, bulge },
    { from: middle, to, bulge },
  ];
}

function onArc(centre: Point, from: Point, deg: number): Point {
  return plus(centre, transformPoint(rotation(deg), minus(from, centre)));
}

/**
 * The way of the tip of a trailing knife while its axis makes a motion, and the knife after it. Its axis must be
 * where the motion begins.
 */
export function dragged(
  motion: MotionAction,
  before: Dragged,
  { offset }: Pick<TrailingKnife, 'offset'>,
): { segments: Segment[]; knife: Dragged } {
  if (motion.kind === 'arc' && isSteady(motion, before, offset)) {
    return steadilyDragged(motion, before, offset);
  }
  const segments: Segment[] = [];
  let knife = before;
  let tip = tipOf(knife, offset);
  const stepTo = (axis: Point, keep: boolean): void => {
    knife = dragStraight(knife, axis, offset);
    const next = tipOf(knife, offset);
    if (distance(tip, next) < (keep ? still / 10 : still)) return;
    segments.push({ from: tip, to: next, bulge: 0 });
    tip = next;
  };
  const ways = chordsOf(motion);
  for (const [i, to] of ways.entries()) {
    // Small steps as long as the tip swings; the rest in one step.
    for (let way = distance(knife.axis, to); way > swingStep && swings(knife, to);) {
      stepTo(between(knife.axis, to, swingStep / way), false);
      way = distance(knife.axis, to);
    }
    stepTo(to, i === ways.length - 1);
  }
  return { segments, knife };
}

/**
 * Whether the knife goes round an arc steadily: it points along the circle of its tip. If the axis goes
 * on radius P, that circle has radius sqrt(P^2 - d^2) about the same centre, and the heading is at right
 * angles to the line from the centre to the tip.
 */
function isSteady({ centre, radius }: ArcMotion, knife: Dragged, offset: number): boolean {
  if (radius < offset - steady) return false;
  const out = minus(tipOf(knife, offset), centre);
  const wanted = Math.sqrt(Math.max(0, radius * radius - offset * offset));
  const aside = Math.abs(dot(out, { x: Math.cos(knife.heading), y: Math.sin(knife.heading) }));
  const away = Math.hypot(out.x, out.y);
  // If the heading is wrong by an angle, the tip is off by that angle times the offset.
  return Math.abs(away - wanted) <= steady && aside <= steady * Math.max(1, away / offset);
}

function steadilyDragged(
  { centre, sweepDeg, to }: ArcMotion,
  { axis, heading }: Dragged,
  offset: number,
): { segments: Segment[]; knife: Dragged } {
  const knife = { axis: to, heading: heading + (sweepDeg * Math.PI) / 180 };
  const from = tipOf({ axis, heading }, offset);
  if (distance(from, centre) < still) return { segments: [], knife };
  const half = onArc(centre, from, sweepDeg / 2);
  const bulge = bulgeOf((sweepDeg * Math.PI) / 360);
  const segments = [
    { from, to: half, bulge },
    { from: half, to: tipOf(knife, offset), bulge },
  ];
  return { segments, knife };
}

/** The points through which the axis goes; an arc is replaced by chords. */
function chordsOf(motion: MotionAction): Point[] {
  if (motion.kind !== 'arc') return [motion.to];
  const { radius, sweepDeg, centre, from, to } = motion;
  const stepDeg = (2 * Math.acos(Math.max(0, 1 - arcError / radius)) * 180) / Math.PI;
  const count = Math.ceil(Math.abs(sweepDeg) / stepDeg);
  return Array.from({ length: count }, (_, i) =>
    i === count - 1 ? to : onArc(centre, from, (sweepDeg * (i + 1)) / count),
  );
}

function swings({ axis, heading }: Dragged, to: Point): boolean {
  return Math.abs(Math.sin(heading - Math.atan2(to.y - axis.y, to.x - axis.x))) > aligned;
}
