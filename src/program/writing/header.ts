import type { Box } from '../../geometry/paths/box.ts';
import { boxOfPoints, emptyBox, unionBox } from '../../geometry/paths/box.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { boxOfSegment, bulgeOf } from '../../geometry/paths/segment.ts';
import type { Cutter } from '../../knife/cutter.ts';
import type { KnifePath, Move } from '../../knife/moves.ts';
import type { Lay } from '../../lay/lay.ts';
import { counted, duration, metresUp } from '../../base/wording.ts';
import { decimal } from '../../base/numbers.ts';
import { commentLines } from './comments.ts';

/** What the operator should read at the top of a program. */
export interface ProgramHeader {
  readonly run: string;
  readonly material: string;
  /** Thickness of the material, mm. */
  readonly thickness: number;
  /** The face of the material, in words: `the pile`. */
  readonly face: string;
  /** Lines with sizes, counts and times. */
  readonly lines: readonly string[];
  /**
   * For the program of a single bite: its number, how many bites there are, and how far the roll must
   * have been fed, mm.
   */
  readonly bite?: { readonly number: number; readonly of: number; readonly fed: number };
}

/** `cut` cuts. `dry` goes the same way with the knife at travel height and never switches it on. */
export type ProgramKind = 'cut' | 'dry';

/**
 * The lines at the top of a program: what it is for, what to load and how, the knife, how far the moves
 * reach, and cautions.
 */
export function headerLines(
  header: ProgramHeader,
  cutter: Cutter,
  kind: ProgramKind,
  moves: readonly Move[],
): string[] {
  const { run, material, thickness, face, lines, bite } = header;
  return [
    `RUN ${run}, MATERIAL ${material} ${decimal(thickness, 2)} mm thick, CUTTER ${cutter.name}`,
    kind === 'dry'
      ? 'DRY PROGRAM: the way of the cut with the knife up. Run this first.'
      : 'CUTTING PROGRAM',
    ...(bite === undefined
      ? []
      : [
          `BITE ${bite.number} OF ${bite.of} ALONE: the roll must lie fed ${inBoth(bite.fed)} from its start.`,
        ]),
    cutter.face === 'up'
      ? `FACE UP: the roll lies with ${face} up.`
      : `FACE DOWN: the roll lies with ${face} on the bed. The lay is mirrored for it.`,
    ...lines,
    ...knifeLines(cutter),
    ...figureLines(cutter),
    ...reachLines(moves),
    ...cautions,
  ].flatMap(commentLines);
}

/** Lines with sizes, counts and times: of the roll, and of a way of the knife over its lay. */
export function sizeLines(
  { roll, length, placements }: Lay,
  way: KnifePath,
  hasPile: boolean,
): string[] {
  const metres = (mm: number): string => `${(mm / 1000).toFixed(1)} m`;
  return [
    `Roll ${roll.width} mm wide, ${metresUp(length)} needed${hasPile ? ', pile leaning towards X plus' : ''}`,
    `Lay of ${counted(placements.length, 'part')}, here ${counted(way.bites, 'bite')}, ${metres(way.cutLength)} to cut, ${metres(way.travelLength)} between, about ${duration(way.minutes)}`,
  ];
}

function knifeLines({ knife, blade, heights }: Cutter): string[] {
  const size = `blade ${decimal(blade.width, 2)} mm, tip ${decimal(-heights.cut, 3)} mm below the bed`;
  if (knife.kind === 'trailing') {
    return [
      `KNIFE trailing by ${decimal(knife.offset, 3)} mm, ${size}`,
      knife.leadIn === undefined
        ? 'Before the start turn the trailing knife to heading 0: tip behind the axis, towards X minus.'
        : 'Before the start turn the trailing knife by eye to heading 0, within 90 degrees: tip behind the axis, towards X minus. A cut in waste turns it true.',
    ];
  }
  const oscillating = knife.oscillation === undefined ? 'still' : 'oscillating';
  return [
    `KNIFE tangential, turned by ${knife.axis.letter}, ${oscillating}, ${size}`,
    `Heading 0 of ${knife.axis.letter} is along X plus.`,
  ];
}

function figureLines({ program: { units, arcs } }: Cutter): string[] {
  const unit = units === 'mm' ? 'Millimetres' : 'Inches';
  return [
    `X0 Y0 is the start of the roll at its edge, Z0 the bed. ${unit}.`,
    ...(arcs === 'exact'
      ? []
      : [`Arcs are cut as lines that leave them by ${decimal(arcs.chordError, 3)} mm at most.`]),
  ];
}

/**
 * How far the moves reach, in mm and inches. The operator compares that with the machine: a wrong unit
 * shows as a factor of 25.4.
 */
function reachLines(moves: readonly Move[]): string[] {
  const { minX, minY, maxX, maxY } = boxOfMoves(moves);
  if (minX === Infinity) return [];
  const reach = (unit: number, decimals: number): string => {
    const [x0, x1, y0, y1] = [minX, maxX, minY, maxY].map((mm) => decimal(mm / unit, decimals));
    return `X ${x0} to ${x1}, Y ${y0} to ${y1}`;
  };
  return [`REACH in mm: ${reach(1, 1)}`, `REACH in inches: ${reach(inch, 3)}`];
}

/** The box round the way of the axis, from the first place to which it goes. */
function boxOfMoves(moves: readonly Move[]): Box {
  let at: Point | undefined;
  let box = emptyBox;
  for (const move of moves) {
    if (!('to' in move)) continue;
    const { to } = move;
    const bulge = move.kind === 'arc' ? bulgeOf((move.sweepDeg * Math.PI) / 180) : 0;
    box = unionBox(
      box,
      at === undefined ? boxOfPoints([to]) : boxOfSegment({ from: at, to, bulge }),
    );
    at = to;
  }
  return box;
}

/** An inch in mm. */
const inch = 25.4;

function inBoth(mm: number): string {
  return `${decimal(mm, 3)} mm, ${decimal(mm / inch, 3)} inches,`;
}

const cautions = [
  'CAUTION: this program is no safety function. M0 and M5 do not replace the emergency stop.',
  'Guards closed, hands and loose clothing clear of gantry and feed rollers.',
  'Stop and isolate the machine before anyone touches the blade or the roll.',
  'The rules of the maker of the machine and of the workplace come first.',
];
