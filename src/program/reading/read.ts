import type { Place } from '../../base/findings.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { between, distance, leftOf, minus, plus, times } from '../../geometry/paths/point.ts';
import type { Cutter } from '../../knife/cutter.ts';
import type { Action, ArcMotion, CommentLine, MachinePosition, Program } from './actions.ts';
import { unwrapped } from './comments.ts';
import type { ProgramLine, RotaryAxis } from './words.ts';
import { outside, readLine } from './words.ts';

/**
 * The distances from the centre to the start and to the end of an arc may differ by this, mm (NISTIR
 * 6556; the value for inches from memory).
 */
const radiiApart = { mm: 0.002, in: 0.0002 * 25.4 };

/** The state that a line leaves behind for the lines after it. */
interface Modes {
  readonly at: MachinePosition;
  readonly motion: 'G0' | 'G1' | 'G2' | 'G3' | 'G80' | undefined;
  readonly feed: number;
  readonly units: 'mm' | 'in' | undefined;
  /** Those of the `needed` modes that have been set so far. */
  readonly said: ReadonlySet<string>;
}

const atPowerOn: Modes = {
  at: { x: 0, y: 0, z: 0, deg: 0 },
  motion: undefined,
  feed: 0,
  units: undefined,
  said: new Set(),
};

/** Modes that a program must set before it moves: controllers may start in others. */
const needed = ['G17', 'G90', 'G94'];

/**
 * Reads a program strictly in the subset of NISTIR 6556 that this product writes. Throws a Refusal that
 * names the line for anything else. `axis`: the letter of the axis that turns the knife; left out if
 * there is none. The machine is taken to start at 0, 0, 0 with heading 0.
 */
export function readProgram(text: string, file: string, axis?: RotaryAxis): Program {
  const actions: Action[] = [];
  const head: CommentLine[] = [];
  let note: CommentLine[] = [];
  let modes = atPowerOn;
  let begun = false;
  const lines = text.replace(/\r?\n$/, '').split(/\r?\n/);
  for (const [i, lineText] of lines.entries()) {
    const line = readLine(lineText, i + 1, file);
    const where: Place = { file, line: line.number };
    const hasWords = line.codes.length > 0 || line.values.size > 0;
    const comments = line.comments.map((comment) => ({ line: line.number, text: comment }));
    if (actions.at(-1)?.kind === 'end' && (hasWords || comments.length > 0)) {
      outside('something follows the end of the program (M2).', where);
    }
    begun ||= hasWords;
    // A comment beside words announces nothing.
    if (begun && !hasWords) note.push(...comments);
    else if (!begun) head.push(...comments);
    if (note.length > 0 && (hasWords || comments.length === 0)) {
      actions.push({ kind: 'note', line: note[0]!.line, text: unwrapped(note) });
      note = [];
    }
    const done = execute(line, modes, axis, where);
    actions.push(...done.actions);
    modes = done.modes;
  }
  if (actions.at(-1)?.kind !== 'end') {
    outside('the program does not end with M2.', { file, line: lines.length });
  }
  return { file, units: modes.units ?? 'mm', head, actions, lines };
}

/** The letter of the axis that turns a cutter's knife; undefined if there is none. */
export function axisOf({ knife }: Cutter): RotaryAxis | undefined {
  return knife.kind === 'tangential' ? knife.axis.letter : undefined;
}

/** Executes the words of a line in the order in which a controller does. */
function execute(
  line: ProgramLine,
  before: Modes,
  axis: RotaryAxis | undefined,
  where: Place,
): { actions: Action[]; modes: Modes } {
  const { codes, values, number } = line;
  const actions: Action[] = line.messages.map((text) => ({ kind: 'message', line: number, text }));
  let modes = withFeed(withModes(before, codes), values, where);
  if (codes.includes('M3')) actions.push({ kind: 'spindle', line: number, on: true });
  if (codes.includes('M5')) actions.push({ kind: 'spindle', line: number, on: false });
  const punch = (['M7', 'M8', 'M9'] as const).find((word) => codes.includes(word));
  if (punch !== undefined) actions.push({ kind: 'punch', line: number, word: punch });
  if (codes.includes('G4')) {
    actions.push({ kind: 'dwell', line: number, seconds: dwellSeconds(line, where) });
  } else if (values.has('P')) {
    outside('P stands without G4.', where);
  }
  if (moves(line)) {
    const motion = motionOf(line, modes, axis, where);
    actions.push(motion);
    modes = { ...modes, at: motion.to };
  } else if (['I', 'J', 'R'].some((letter) => values.has(letter))) {
    outside('I, J or R stand without an end point; a full circle has X and Y too.', where);
  }
  if (codes.includes('M0') || codes.includes('M1')) actions.push({ kind: 'stop', line: number });
  if (codes.includes('M2')) actions.push({ kind: 'end', line: number });
  return { actions, modes };
}

function withModes(modes: Modes, codes: readonly string[]): Modes {
  // Most lines only repeat the motion that is in force.
  if (codes.length === 1 && codes[0] === modes.motion) return modes;
  const motion = codes.find((code) => /^G([0-3]|80)$/.test(code)) as Modes['motion'];
  const units = codes.includes('G20') ? 'in' : codes.includes('G21') ? 'mm' : modes.units;
  const news = codes.filter((code) => needed.includes(code) && !modes.said.has(code));
  return {
    ...modes,
    motion: motion ?? modes.motion,
    units,
    said: news.length === 0 ? modes.said : new Set([...modes.said, ...news]),
  };
}

function withFeed(modes: Modes, values: ReadonlyMap<string, number>, where: Place): Modes {
  const feed = values.get('F');
  if (feed === undefined) return modes;
  if (feed <= 0) outside(`the feed F${feed} is not above 0.`, where);
  return { ...modes, feed };
}

function scaleOf({ units }: Modes): number {
  return units === 'in' ? 25.4 : 1;
}

function dwellSeconds({ values }: ProgramLine, where: Place): number {
  const seconds = values.get('P');
  if (seconds === undefined || seconds < 0) {
    return outside('G4 needs P with the seconds to wait.', where);
  }
  if (['X', 'Y', 'Z'].some((letter) => values.has(letter))) {
    outside('G4 and a motion stand in one line.', where);
  }
  return seconds;
}

function moves({ values }: ProgramLine): boolean {
  return ['X', 'Y', 'Z', 'A', 'B', 'C'].some((letter) => values.has(letter));
}

function motionOf(
  line: ProgramLine,
  modes: Modes,
  axis: RotaryAxis | undefined,
  where: Place,
): Extract<Action, { to: MachinePosition }> {
  const missing = needed.find((code) => !modes.said.has(code));
  if (missing !== undefined) outside(`the machine moves before ${missing} is said.`, where);
  if (modes.units === undefined) outside('the machine moves before G21 is said.', where);
  const { values, number } = line;
  const from = modes.at;
  const to = endOf(values, modes, axis, where);
  const arc = modes.motion === 'G2' || modes.motion === 'G3';
  if (!arc && ['I', 'J', 'R'].some((letter) => values.has(letter))) {
    outside('I, J or R stand without G2 or G3.', where);
  }
  if (modes.motion === undefined || modes.motion === 'G80') {
    return outside('a coordinate stands where no G0, G1, G2 or G3 is in force.', where);
  }
  if (modes.motion === 'G0') return { kind: 'rapid', line: number, from, to };
  if (modes.feed === 0) outside('the knife moves before any feed F is said.', where);
  if (arc) return arcOf(line, modes, to, where);
  const turnsOnly = from.x === to.x && from.y === to.y && from.z === to.z;
  const feed = turnsOnly ? modes.feed : modes.feed * scaleOf(modes);
  return { kind: 'line', line: number, from, to, feed };
}

function endOf(
  values: ReadonlyMap<string, number>,
  modes: Modes,
  axis: RotaryAxis | undefined,
  where: Place,
): MachinePosition {
  const { at } = modes;
  const scale = scaleOf(modes);
  const wrong = (['A', 'B', 'C'] as const).find((letter) => letter !== axis && values.has(letter));
  if (wrong !== undefined) {
    outside(`the machine has no axis ${wrong} that turns the knife.`, where);
  }
  const length = (letter: string, now: number): number => {
    const value = values.get(letter);
    return value === undefined ? now : value * scale;
  };
  return {
    x: length('X', at.x),
    y: length('Y', at.y),
    z: length('Z', at.z),
    deg: (axis === undefined ? undefined : values.get(axis)) ?? at.deg,
  };
}

/** The arc of a line. If it ends where it starts, it is a full circle. */
function arcOf(line: ProgramLine, modes: Modes, to: MachinePosition, where: Place): ArcMotion {
  const { values, number } = line;
  const { at: from } = modes;
  const scale = scaleOf(modes);
  const radiusTolerance = radiiApart[modes.units ?? 'mm'];
  if (!values.has('X') && !values.has('Y')) outside('an arc needs X or Y of its end.', where);
  if (to.z !== from.z) outside('an arc changes its height.', where);
  const centre = values.has('R')
    ? centreByRadius(line, modes, to, where)
    : centreByOffsets(line, modes, where);
  const radius = distance(centre, from);
  const apart = Math.abs(radius - distance(centre, to));
  if (radius === 0) outside('an arc has radius 0.', where);
  // A nanometre is added for rounding in sums, so that the limit itself is allowed.
  if (apart > radiusTolerance + 1e-6) {
    outside(
      `the arc starts ${radius.toFixed(4)} mm from its centre and ends ${apart.toFixed(4)} mm off that; a controller takes ${radiusTolerance} mm.`,
      where,
    );
  }
  const sweepDeg = sweepOf(from, to, centre, modes.motion === 'G3');
  return {
    kind: 'arc',
    line: number,
    from,
    to,
    feed: modes.feed * scale,
    centre,
    radius,
    sweepDeg,
    byRadius: values.has('R'),
  };
}

/** The centre of an arc by I and J, which are counted from its start. */
function centreByOffsets({ values }: ProgramLine, modes: Modes, where: Place): Point {
  if (!values.has('I') && !values.has('J')) outside('an arc needs I or J of its centre.', where);
  const scale = scaleOf(modes);
  const { x, y } = modes.at;
  return { x: x + (values.get('I') ?? 0) * scale, y: y + (values.get('J') ?? 0) * scale };
}

/**
 * The centre of an arc by R. Two circles of that radius go through both ends: the arc turns through less
 * than a half turn if R is positive, through more if it is negative.
 */
function centreByRadius({ values }: ProgramLine, modes: Modes, to: Point, where: Place): Point {
  if (values.has('I') || values.has('J')) outside('an arc has R as well as I or J.', where);
  const from: Point = modes.at;
  const radius = values.get('R')! * scaleOf(modes);
  const chord = distance(from, to);
  if (chord === 0) outside('an arc by its radius ends where it starts.', where);
  const short = chord / 2 - Math.abs(radius);
  if (short > radiiApart[modes.units ?? 'mm']) {
    outside(`the arc of radius ${Math.abs(radius)} does not reach its end.`, where);
  }
  const off = Math.sqrt(Math.max(0, radius * radius - (chord * chord) / 4));
  const toLeft = (modes.motion === 'G3') === radius > 0 ? 1 : -1;
  return plus(between(from, to, 0.5), times(leftOf(minus(to, from)), (toLeft * off) / chord));
}

function sweepOf(from: Point, to: Point, centre: Point, counterClockwise: boolean): number {
  if (from.x === to.x && from.y === to.y) return counterClockwise ? 360 : -360;
  const angle = (p: Point): number => Math.atan2(p.y - centre.y, p.x - centre.x);
  const turned = ((angle(to) - angle(from)) * 180) / Math.PI;
  const positive = turned <= 0 ? turned + 360 : turned;
  return counterClockwise ? positive : positive === 360 ? -360 : positive - 360;
}
