import type { Point } from '../geometry/point.ts';
import type { Cutter } from '../knife/cutter.ts';
import type { KnifePath, Move } from '../knife/moves.ts';
import { decimal, rounded } from '../numbers.ts';
import type { WrittenStroke } from './arc-words.ts';
import { writtenArc } from './arc-words.ts';
import { commentLines, messageLine } from './comments.ts';
import { readLine } from './words.ts';

/** What the operator should read at the top of a program. */
export interface ProgramHeader {
  readonly run: string;
  readonly material: string;
  /** Sizes and counts, a line each. */
  readonly lines: readonly string[];
}

/** `cut` cuts; `dry` goes the same way with the knife at travel height, never on. */
export type ProgramKind = 'cut' | 'dry';

/** Where the machine is as the program knows it, in numbers as they were written. */
interface Machine {
  readonly at: Point;
  /** As the move said it, before rounding. */
  readonly exactAt: Point;
  readonly deg: number;
  readonly feed: string;
  readonly oscillating: boolean;
}

interface Step {
  readonly lines: readonly string[];
  readonly machine: Machine;
}

const opening = 'G17 G21 G40 G49 G54 G61 G80 G90 G94';

/**
 * The knife path as a program in the RS-274/NGC subset of NISTIR 6556: millimetres, absolute, feed
 * per minute, one action a line, arcs by their centre, M2 at the end. F is mm/min, for a turn on the
 * spot degrees/min. X0 Y0 is the start of the bite under the knife at the roll's edge, Z0 the bed.
 * Throws a Refusal where the profile's own lines are not in the subset.
 */
export function writeProgram(
  path: KnifePath,
  cutter: Cutter,
  header: ProgramHeader,
  kind: ProgramKind,
): string {
  const lines = [
    ...headerLines(header, cutter, kind),
    opening,
    ...ownLines(cutter, 'before'),
    `G0 Z${decimal(cutter.heights.travel, cutter.program.decimals)}`,
  ];
  let machine: Machine = {
    at: { x: NaN, y: NaN },
    exactAt: { x: NaN, y: NaN },
    deg: 0,
    feed: '',
    oscillating: false,
  };
  for (const move of path.moves) {
    const step = stepOf(move, machine, cutter, kind);
    lines.push(...step.lines);
    machine = step.machine;
  }
  if (machine.oscillating) lines.push('M5');
  lines.push(...ownLines(cutter, 'after'), 'M2');
  return `${lines.join('\n')}\n`;
}

/** Read before they are written, so that a slip in the profile is named there and not in the program. */
function ownLines({ name, program }: Cutter, place: 'before' | 'after'): readonly string[] {
  for (const [i, text] of program[place].entries()) {
    readLine(text, i + 1, `${name}.yaml, program.${place}`);
  }
  return program[place];
}

function headerLines(header: ProgramHeader, cutter: Cutter, kind: ProgramKind): string[] {
  const knife =
    cutter.knife.kind === 'trailing'
      ? 'Before the start turn the trailing knife to heading 0: tip behind the axis, towards X minus.'
      : `Heading 0 of ${cutter.knife.axis.letter} is along X plus.`;
  return [
    `RUN ${header.run}, MATERIAL ${header.material}, CUTTER ${cutter.name}`,
    kind === 'dry'
      ? 'DRY PROGRAM: the way of the cut with the knife up. Run this first.'
      : 'CUTTING PROGRAM',
    ...header.lines,
    'X0 Y0 is the start of the roll at its edge, Z0 the bed. Millimetres.',
    knife,
    ...cautions,
  ].flatMap(commentLines);
}

const cautions = [
  'CAUTION: this program is no safety function. M0 and M5 do not replace the emergency stop.',
  'Guards closed, hands and loose clothing clear of gantry and feed rollers.',
  'Stop and isolate the machine before anyone touches the blade or the roll.',
  'The rules of the maker of the machine and of the workplace come first.',
];

function stepOf(move: Move, machine: Machine, cutter: Cutter, kind: ProgramKind): Step {
  const { decimals } = cutter.program;
  switch (move.kind) {
    case 'note':
      return { lines: commentLines(move.text), machine };
    case 'travel': {
      const at = roundedPoint(move.to, decimals);
      return { lines: [`G0 ${xy(at, decimals)}`], machine: { ...machine, at, exactAt: move.to } };
    }
    case 'lift':
      return kind === 'dry'
        ? { lines: [], machine }
        : oneLine(`G0 Z${decimal(cutter.heights.travel, decimals)}`, machine);
    case 'lower':
      return kind === 'dry' ? { lines: [], machine } : lowered(move.z, machine, cutter);
    case 'turn':
      return turned(move.deg, machine, cutter);
    case 'line':
      return stroked(
        [
          {
            to: roundedPoint(move.to, decimals),
            centre: null,
            counterClockwise: true,
            deg: move.deg,
          },
        ],
        move.to,
        machine,
        cutter,
      );
    case 'arc': {
      const headings = move.deg === null ? null : ([machine.deg, move.deg] as const);
      const arc = { ...move, from: machine.exactAt, headings };
      return stroked(writtenArc(arc, machine.at, decimals), move.to, machine, cutter);
    }
    case 'punch':
      return punched(machine, cutter, kind);
    case 'check': {
      const at = roundedPoint(move.to, decimals);
      const words = 'CHECK: the knife stands over the mark; if not, mend the feed before you go on';
      return {
        lines: [`G0 ${xy(at, decimals)}`, messageLine(words), 'M0'],
        machine: { ...machine, at, exactAt: move.to },
      };
    }
    case 'feed':
      return fed(move.length, machine, cutter);
  }
}

function oneLine(line: string, machine: Machine): Step {
  return { lines: [line], machine };
}

function lowered(z: number, machine: Machine, cutter: Cutter): Step {
  const { knife, feeds, program } = cutter;
  const { word, feed } = feedWord(feeds.plunge, machine, program.decimals);
  const start =
    knife.kind === 'tangential' && knife.oscillation !== undefined && !machine.oscillating
      ? ['M3', `G4 P${decimal(knife.oscillation.dwell, 3)}`]
      : [];
  return {
    lines: [...start, `G1 Z${decimal(z, program.decimals)}${word}`],
    machine: { ...machine, feed, oscillating: machine.oscillating || start.length > 0 },
  };
}

function turned(deg: number, machine: Machine, { knife, program }: Cutter): Step {
  if (knife.kind !== 'tangential') throw new RangeError('only a tangential knife is turned');
  const { word, feed } = feedWord(knife.axis.feed, machine, program.decimals);
  return {
    lines: [`G1 ${knife.axis.letter}${decimal(deg, program.decimals)}${word}`],
    machine: { ...machine, deg, feed },
  };
}

function stroked(
  strokes: readonly WrittenStroke[],
  exactAt: Point,
  before: Machine,
  cutter: Cutter,
): Step {
  const lines: string[] = [];
  let machine = before;
  for (const stroke of strokes) {
    const step = strokeStep(stroke, machine, cutter);
    lines.push(...step.lines);
    machine = step.machine;
  }
  return { lines, machine: { ...machine, exactAt } };
}

/** A stroke too short to be written turns the knife at most: an arc to where it starts would be a full circle. */
function strokeStep(stroke: WrittenStroke, machine: Machine, cutter: Cutter): Step {
  const { decimals } = cutter.program;
  const { to } = stroke;
  const deg = stroke.deg ?? machine.deg;
  if (to.x === machine.at.x && to.y === machine.at.y) {
    const turns = decimal(deg, decimals) !== decimal(machine.deg, decimals);
    return turns ? turned(deg, machine, cutter) : { lines: [], machine: { ...machine, deg } };
  }
  const { word, feed } = feedWord(cutter.feeds.cut, machine, decimals);
  return {
    lines: [`${strokeWords(stroke, cutter)}${word}`],
    machine: { ...machine, at: to, deg, feed },
  };
}

function strokeWords({ to, centre, counterClockwise, deg }: WrittenStroke, cutter: Cutter): string {
  const { knife, program } = cutter;
  const heading =
    deg === null || knife.kind !== 'tangential'
      ? ''
      : ` ${knife.axis.letter}${decimal(deg, program.decimals)}`;
  const ends = xy(to, program.decimals);
  if (centre === null) return `G1 ${ends}${heading}`;
  const code = counterClockwise ? 'G3' : 'G2';
  const { i, j } = centre;
  return `${code} ${ends} I${decimal(i, program.decimals)} J${decimal(j, program.decimals)}${heading}`;
}

/** Knife up and still, the length for the operator to read, and a stop until the roll is there. */
function fed(length: number, machine: Machine, cutter: Cutter): Step {
  const feed = `FEED ${decimal(length, cutter.program.decimals)} MM: pull the roll on, then start again`;
  return {
    lines: [...(machine.oscillating ? ['M5'] : []), messageLine(feed), 'M0'],
    machine: { ...machine, oscillating: false },
  };
}

/** Knife off, the punch down for its time and up again. */
function punched(machine: Machine, { punch }: Cutter, kind: ProgramKind): Step {
  if (punch === undefined) throw new RangeError('only a cutter with a punch punches');
  if (kind === 'dry') return { lines: [], machine };
  return {
    lines: [
      ...(machine.oscillating ? ['M5'] : []),
      punch.word,
      `G4 P${decimal(punch.dwell, 3)}`,
      'M9',
    ],
    machine: { ...machine, oscillating: false },
  };
}

/** ` F...` where the feed changes, else nothing. */
function feedWord(
  value: number,
  machine: Machine,
  decimals: number,
): { word: string; feed: string } {
  const feed = decimal(value, decimals);
  return { word: feed === machine.feed ? '' : ` F${feed}`, feed };
}

function xy({ x, y }: Point, decimals: number): string {
  return `X${decimal(x, decimals)} Y${decimal(y, decimals)}`;
}

function roundedPoint({ x, y }: Point, decimals: number): Point {
  return { x: rounded(x, decimals), y: rounded(y, decimals) };
}
