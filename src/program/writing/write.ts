import type { Point } from '../../geometry/paths/point.ts';
import { distance } from '../../geometry/paths/point.ts';
import { samePoint } from '../../geometry/paths/tolerance.ts';
import type { Cutter } from '../../knife/cutter.ts';
import type { KnifePath, Move } from '../../knife/moves.ts';
import { decimal, rounded } from '../../base/numbers.ts';
import type { WrittenStroke } from './arc-words.ts';
import { writtenArc, writtenChords } from './arc-words.ts';
import { commentLines, longestLine, messageLine } from './comments.ts';
import type { ProgramHeader, ProgramKind } from './header.ts';
import { headerLines } from './header.ts';
import { numberedLines, numberRoom } from './line-numbers.ts';
import type { ProgramLine } from '../reading/words.ts';
import { readLine } from '../reading/words.ts';
import { refuse } from '../../base/findings.ts';

/**
 * The state of the machine after the program so far, in the units of the program and rounded as in it.
 */
interface Machine {
  readonly at: Point;
  /** The place to which the last move should have gone, before rounding. */
  readonly exactAt: Point;
  readonly deg: number;
  readonly feed: string;
  readonly oscillating: boolean;
}

interface WrittenStep {
  readonly lines: readonly string[];
  readonly machine: Machine;
}

const atStart: Machine = {
  at: { x: NaN, y: NaN },
  exactAt: { x: NaN, y: NaN },
  deg: 0,
  feed: '',
  oscillating: false,
};

/**
 * Writes a knife path as a program in the RS-274/NGC subset of NISTIR 6556: absolute coordinates, feed
 * per minute, one action in a line, arcs by their centre or as chords, M2 at the end. Lengths and feeds
 * are in the units of the profile, mm or inches; F of a turn on the spot is in degrees/min. X0 Y0 is the
 * start of the bite under the knife at the edge of the roll, Z0 the bed. Throws a Refusal if the
 * profile's own lines are not in the subset.
 *
 * Gives the program line by line, with line ends, since a whole one can be too long for one string.
 */
export function* programText(
  path: KnifePath,
  cutter: Cutter,
  header: ProgramHeader,
  kind: ProgramKind,
): Generator<string> {
  const lines = programLines(path, cutter, header, kind);
  for (const line of cutter.program.lineNumbers ? numberedLines(lines) : lines) yield `${line}\n`;
}

function* programLines(
  path: KnifePath,
  cutter: Cutter,
  header: ProgramHeader,
  kind: ProgramKind,
): Generator<string> {
  checkOwnLines(cutter);
  yield* headerLines(header, cutter, kind, path.moves);
  yield `G17 ${cutter.program.units === 'mm' ? 'G21' : 'G20'} G40 G49 G54 G61 G80 G90 G94`;
  yield* cutter.program.before;
  yield upLine(cutter);
  let machine = atStart;
  for (const move of path.moves) {
    const step = stepOf(move, machine, cutter, kind);
    yield* step.lines;
    machine = step.machine;
  }
  if (machine.oscillating) yield 'M5';
  yield* cutter.program.after;
  yield 'M2';
}

/**
 * Reads the lines that a profile adds to its programs. Throws a Refusal that names the profile if one is
 * not in the subset, or does what the program itself must do.
 */
export function checkOwnLines({ name, program }: Cutter): void {
  for (const place of ['before', 'after'] as const) {
    for (const [i, text] of program[place].entries()) {
      const file = `${name}.yaml, program.${place}`;
      const wrong = whatInterferes(readLine(text, i + 1, file), place, program.units);
      if (wrong === undefined) continue;
      refuse('program', `"${text}" ${wrong}.`, 'Take that out of the profile.', {
        file,
        line: i + 1,
      });
    }
  }
}

/** What a line of a profile does that only the program may do; undefined: nothing. */
function whatInterferes(
  { codes, values }: ProgramLine,
  place: 'before' | 'after',
  units: Cutter['program']['units'],
): string | undefined {
  const axes = ['X', 'Y', 'Z', 'A', 'B', 'C'].filter((letter) => values.has(letter));
  if (codes.includes('M2')) return 'ends the program';
  if (codes.includes(units === 'mm' ? 'G20' : 'G21')) {
    return `changes the unit: the program is in ${units}`;
  }
  const switched = codes.find((code) => ['M3', 'M7', 'M8', 'M9'].includes(code));
  if (switched !== undefined) return `switches what the program switches (${switched})`;
  if (axes.length === 0) return undefined;
  if (place === 'before') return 'moves the machine before the knife is lifted';
  if (!codes.includes('G0')) return 'moves the machine otherwise than by G0';
  return axes.includes('Z') && axes.length > 1 ? 'lifts the knife and moves at once' : undefined;
}

function stepOf(move: Move, machine: Machine, cutter: Cutter, kind: ProgramKind): WrittenStep {
  switch (move.kind) {
    case 'note':
      return { lines: commentLines(move.text), machine };
    case 'travel':
      return travelled(move.to, machine, cutter);
    case 'lift':
      return kind === 'dry' ? unchanged(machine) : { lines: [upLine(cutter)], machine };
    case 'lower':
      return kind === 'dry' ? unchanged(machine) : lowered(move.z, machine, cutter);
    case 'turn':
      return turned(move.deg, machine, cutter);
    case 'line':
    case 'arc':
      return stroked(move, machine, cutter);
    case 'punch':
      return kind === 'dry' ? unchanged(machine) : punched(machine, cutter);
    case 'check':
      return checked(move.to, machine, cutter);
    case 'feed':
      return fed(move.length, machine, cutter);
  }
}

function unchanged(machine: Machine): WrittenStep {
  return { lines: [], machine };
}

function upLine(cutter: Cutter): string {
  return `G0 Z${length(cutter.heights.travel, cutter)}`;
}

function travelled(to: Point, machine: Machine, cutter: Cutter): WrittenStep {
  const exactAt = scaled(to, cutter);
  const at = roundedPoint(exactAt, cutter);
  return { lines: [`G0 ${xy(at, cutter)}`], machine: { ...machine, at, exactAt } };
}

function lowered(z: number, machine: Machine, cutter: Cutter): WrittenStep {
  const { knife, feeds } = cutter;
  const { word, feed } = feedWord(length(feeds.plunge, cutter), machine);
  const start =
    knife.kind === 'tangential' && knife.oscillation !== undefined && !machine.oscillating
      ? ['M3', `G4 P${decimal(knife.oscillation.dwell, 3)}`]
      : [];
  return {
    lines: [...start, `G1 Z${length(z, cutter)}${word}`],
    machine: { ...machine, feed, oscillating: machine.oscillating || start.length > 0 },
  };
}

function turned(deg: number, machine: Machine, { knife, program }: Cutter): WrittenStep {
  if (knife.kind !== 'tangential') throw new RangeError('only a tangential knife is turned');
  const { word, feed } = feedWord(decimal(knife.axis.feed, program.decimals), machine);
  return {
    lines: [`G1 ${knife.axis.letter}${decimal(deg, program.decimals)}${word}`],
    machine: { ...machine, deg, feed },
  };
}

/** Writes a straight stroke, or an arc in the way that the profile asks for. */
function stroked(
  move: Extract<Move, { kind: 'line' | 'arc' }>,
  before: Machine,
  cutter: Cutter,
): WrittenStep {
  const to = scaled(move.to, cutter);
  const lines: string[] = [];
  let machine = before;
  for (const stroke of writtenStrokes(move, to, before, cutter)) {
    const step = strokeStep(stroke, machine, cutter);
    lines.push(...step.lines);
    machine = step.machine;
  }
  return { lines, machine: { ...machine, exactAt: to } };
}

function writtenStrokes(
  move: Extract<Move, { kind: 'line' | 'arc' }>,
  to: Point,
  machine: Machine,
  cutter: Cutter,
): WrittenStroke[] {
  const { program } = cutter;
  const { deg } = move;
  if (move.kind === 'line') {
    return [{ to: roundedPoint(to, cutter), centre: null, counterClockwise: true, deg }];
  }
  const arc = {
    from: machine.exactAt,
    to,
    centre: scaled(move.centre, cutter),
    sweepDeg: move.sweepDeg,
    headings: deg === null ? null : ([machine.deg, deg] as const),
  };
  return program.arcs === 'exact'
    ? writtenArc(arc, machine.at, program)
    : writtenChords(
        arc,
        chordError(move, program.arcs.chordError, cutter) / unitOf(cutter),
        program,
      );
}

/**
 * The largest chord error where a trailing knife swivels about its tip, mm. Each chord of the axis pushes
 * the tip off and pulls it back at another angle. That adds up to error times angle, so less is allowed
 * than elsewhere.
 */
const swivelError = 0.004;

function chordError(
  { to, centre }: Extract<Move, { kind: 'arc' }>,
  error: number,
  { knife }: Cutter,
): number {
  const swivels = knife.kind === 'trailing' && distance(to, centre) <= knife.offset + samePoint;
  return swivels ? Math.min(error, swivelError) : error;
}

/**
 * Writes one stroke. If it is too short to be written, it only turns the knife: an arc that ends where it
 * starts would be a full circle.
 */
function strokeStep(stroke: WrittenStroke, machine: Machine, cutter: Cutter): WrittenStep {
  const { decimals } = cutter.program;
  const { to } = stroke;
  const deg = stroke.deg ?? machine.deg;
  if (to.x === machine.at.x && to.y === machine.at.y) {
    const turns = decimal(deg, decimals) !== decimal(machine.deg, decimals);
    return turns ? turned(deg, machine, cutter) : { lines: [], machine: { ...machine, deg } };
  }
  const { word, feed } = feedWord(length(cutter.feeds.cut, cutter), machine);
  return {
    lines: fittingLines(strokeWords(stroke, cutter), word, cutter),
    machine: { ...machine, at: to, deg, feed },
  };
}

/**
 * The words of a stroke and its feed. If both are too long for one line, the feed stands in a line
 * before.
 */
function fittingLines(words: string, feed: string, { program }: Cutter): string[] {
  const room = longestLine - (program.lineNumbers ? numberRoom : 0);
  const fits = feed === '' || words.length + feed.length <= room;
  return fits ? [`${words}${feed}`] : [feed.trim(), words];
}

function strokeWords({ to, centre, counterClockwise, deg }: WrittenStroke, cutter: Cutter): string {
  const { knife, program } = cutter;
  const heading =
    deg === null || knife.kind !== 'tangential'
      ? ''
      : ` ${knife.axis.letter}${decimal(deg, program.decimals)}`;
  const ends = xy(to, cutter);
  if (centre === null) return `G1 ${ends}${heading}`;
  const code = counterClockwise ? 'G3' : 'G2';
  const { i, j } = centre;
  return `${code} ${ends} I${decimal(i, program.decimals)} J${decimal(j, program.decimals)}${heading}`;
}

/** Writes a punch: the knife off, the punch down for its time, and up again. */
function punched(machine: Machine, { punch }: Cutter): WrittenStep {
  if (punch === undefined) throw new RangeError('only a cutter with a punch punches');
  const off = machine.oscillating ? ['M5'] : [];
  return {
    lines: [...off, punch.word, `G4 P${decimal(punch.dwell, 3)}`, 'M9'],
    machine: { ...machine, oscillating: false },
  };
}

/**
 * Writes a feed: the knife up and still, the length for the operator to read, and a stop until the roll
 * lies there.
 */
function fed(by: number, machine: Machine, cutter: Cutter): WrittenStep {
  const unit = cutter.program.units === 'mm' ? 'MM' : 'IN';
  const words = `FEED ${length(by, cutter)} ${unit}: pull the roll on, then start again`;
  return {
    lines: [...(machine.oscillating ? ['M5'] : []), messageLine(words), 'M0'],
    machine: { ...machine, oscillating: false },
  };
}

/**
 * Writes a check: the knife goes over the mark and stops, so that the operator sees whether it is there,
 * before anything is cut.
 */
function checked(at: Point, machine: Machine, cutter: Cutter): WrittenStep {
  const { lines, machine: there } = travelled(at, machine, cutter);
  const words = 'CHECK: the knife stands over the mark. If not, mend the feed first';
  return { lines: [...lines, messageLine(words), 'M0'], machine: there };
}

/** The word ` F...` if the feed changes, otherwise nothing. */
function feedWord(feed: string, machine: Machine): { word: string; feed: string } {
  return { word: feed === machine.feed ? '' : ` F${feed}`, feed };
}

/** How many mm one unit of the program has. */
function unitOf({ program }: Cutter): number {
  return program.units === 'mm' ? 1 : 25.4;
}

/** A length in mm, or a feed, as it is written. */
function length(mm: number, cutter: Cutter): string {
  return decimal(mm / unitOf(cutter), cutter.program.decimals);
}

function scaled({ x, y }: Point, cutter: Cutter): Point {
  const unit = unitOf(cutter);
  return { x: x / unit, y: y / unit };
}

function xy({ x, y }: Point, { program }: Cutter): string {
  return `X${decimal(x, program.decimals)} Y${decimal(y, program.decimals)}`;
}

function roundedPoint({ x, y }: Point, { program }: Cutter): Point {
  return { x: rounded(x, program.decimals), y: rounded(y, program.decimals) };
}
