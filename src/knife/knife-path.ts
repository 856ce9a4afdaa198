import { refuse } from '../base/findings.ts';
import type { Box } from '../geometry/paths/box.ts';
import { boxContains, boxOfPoints, centreOf, growBox } from '../geometry/paths/box.ts';
import { boxOfPath, pathLength, polyline } from '../geometry/paths/path.ts';
import { headingDeg } from '../geometry/paths/angle.ts';
import type { Path } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import { distance, minus } from '../geometry/paths/point.ts';
import type { Transform } from '../geometry/paths/transform.ts';
import { transformPath, transformPoint, translation } from '../geometry/paths/transform.ts';
import { biteSlack } from '../lay/bites.ts';
import type { Bite, Cut } from './cuts.ts';
import type { Cutter } from './cutter.ts';
import { estimate } from './time/estimate.ts';
import type { KnifePath, Move } from './moves.ts';
import type { CutMoves, KnifeState } from './strokes/strokes.ts';
import { tipStrokes } from './strokes/strokes.ts';
import { cutTangential } from './strokes/tangential.ts';
import { cutTrailing } from './strokes/trailing.ts';
import { markArm } from './waste.ts';

/**
 * An unknown place: that of the knife before the first move, and after a stop at which somebody may have
 * moved it.
 */
const somewhere: Point = { x: NaN, y: NaN };

/** The way of the knife so far. */
interface Way {
  readonly moves: Move[];
  state: KnifeState;
  cutLength: number;
}

/**
 * The way of the knife over bites of a lay. Each bite is cut in the frame of the bed. `thickness`: of the
 * material, mm. `fed`: how much of the roll was fed before, mm. The knife begins up, at heading 0
 * degrees. Throws a Refusal that names the part if one does not lie on the bed.
 */
export function knifePath(
  bites: readonly Bite[],
  cutter: Cutter,
  thickness: number,
  fed = 0,
): KnifePath {
  const way: Way = { moves: [], state: { at: somewhere, deg: 0 }, cutLength: 0 };
  let at = fed;
  for (const bite of bites) {
    begin(way, bite, at, cutter);
    at = bite.start;
    for (const cut of bite.cuts) addCut(way, cut, bite, cutter, thickness);
    if (bite.mark !== undefined) {
      addStrokes(way, 'registration mark', crossAt(transformPoint(onBed(bite), bite.mark)), cutter);
    }
  }
  const { moves, cutLength } = way;
  const { travelLength, minutes, begun } = estimate(moves, cutter);
  return { moves, cutLength, travelLength, minutes, begun, bites: bites.length };
}

/** Takes points from the frame of the roll to that of the bed in a bite. */
function onBed({ start }: Bite): Transform {
  return translation({ x: -start, y: 0 });
}

/** The moves at the start of a bite: feed the roll, look for the mark, cut the lead-in. */
function begin(way: Way, bite: Bite, fed: number, cutter: Cutter): void {
  if (bite.start > fed) {
    way.moves.push({ kind: 'feed', length: bite.start - fed });
    way.state = { ...way.state, at: somewhere };
  }
  if (bite.check !== undefined) {
    way.moves.push({ kind: 'check', to: transformPoint(onBed(bite), bite.check) });
    way.state = { ...way.state, at: somewhere };
  }
  if (bite.leadIn !== undefined) {
    const [from, to] = [bite.leadIn.from, bite.leadIn.to].map((p) =>
      transformPoint(onBed(bite), p),
    );
    way.moves.push(...ledIn(from!, to!, cutter));
    way.state = { at: to!, deg: headingDeg(minus(to!, from!)) };
    way.cutLength += distance(from!, to!);
  }
}

function addCut(way: Way, cut: Cut, bite: Bite, cutter: Cutter, thickness: number): void {
  const placed = { ...cut, path: transformPath(onBed(bite), cut.path) };
  if (cut.kind === 'punch') {
    const to = punchPlace(placed, cutter);
    const text = `${cut.label} punch`;
    way.moves.push({ kind: 'note', text }, { kind: 'travel', to }, { kind: 'punch' });
    way.state = { ...way.state, at: to };
    return;
  }
  const strokes = tipStrokes(placed, cutter, thickness);
  checkOnBed(cut, strokes, bite, cutter);
  addStrokes(way, `${cut.label} ${cut.kind}`, strokes, cutter);
}

function addStrokes(way: Way, text: string, strokes: readonly Path[], cutter: Cutter): void {
  if (strokes.length === 0) return;
  way.moves.push({ kind: 'note', text });
  for (const stroke of strokes) {
    const { moves, after } = cutStroke(stroke, way.state, cutter);
    way.moves.push(...moves);
    way.state = after;
    way.cutLength += pathLength(stroke);
  }
}

function cutStroke(tip: Path, from: KnifeState, { knife, heights }: Cutter): CutMoves {
  return knife.kind === 'tangential'
    ? cutTangential(tip, from, knife, heights.cut)
    : cutTrailing(tip, from, knife, heights.cut);
}

/**
 * A lead-in: the axis goes straight on. Wherever the knife pointed before, at the end it points along the
 * cut.
 */
function ledIn(from: Point, to: Point, { heights }: Cutter): Move[] {
  return [
    { kind: 'note', text: 'lead-in' },
    { kind: 'travel', to: from },
    { kind: 'lower', z: heights.cut },
    { kind: 'line', to, deg: null },
    { kind: 'lift' },
  ];
}

/** The two arms of a registration mark. */
function crossAt({ x, y }: Point): Path[] {
  const arm = (dx: number, dy: number): Path =>
    polyline(
      [
        { x: x - dx, y: y - dy },
        { x: x + dx, y: y + dy },
      ],
      false,
    );
  return [arm(markArm, 0), arm(0, markArm)];
}

/**
 * The place of the axis at which the punch is over the middle of a hole. Refuses a hole for which the
 * axis would have to leave the bed.
 */
function punchPlace({ label, path }: Cut, { name, bed, punch }: Cutter): Point {
  if (punch === undefined) throw new RangeError(`${name} has no punch`);
  const [x, y] = punch.offset;
  const at = minus(centreOf(boxOfPath(path)), { x, y });
  if (boxContains(growBox(bedBox(bed), bed.overrun), boxOfPoints([at]))) return at;
  return refuse(
    'off-the-bed',
    `to punch the hole at ${(at.x + x).toFixed(1)}, ${(at.y + y).toFixed(1)} mm on the bed, the axis of ${name} would leave the bed and its overrun.`,
    'Leave punch out of the profile, so that such holes are marked, or lay the part elsewhere with a pin.',
    { part: label },
  );
}

function bedBox({ length, width }: Cutter['bed']): Box {
  return { minX: 0, minY: 0, maxX: length, maxY: width };
}

/** Refuses a part if what is cut of it in a bite does not lie on the bed as a whole. */
function checkOnBed(
  { label }: Cut,
  strokes: readonly Path[],
  { start }: Bite,
  { name, bed }: Cutter,
): void {
  const slack = growBox(bedBox(bed), biteSlack);
  for (const box of strokes.map(boxOfPath)) {
    if (box.minX < slack.minX || box.maxX > slack.maxX) {
      const [from, to] = [box.minX, box.maxX].map((x) => (x + start).toFixed(1));
      refuse(
        'off-the-bed',
        `the part is cut from ${from} to ${to} mm along the roll; the bed of ${name} holds ${start.toFixed(1)} to ${(start + bed.length).toFixed(1)} mm of it in that bite.`,
        'Lay the parts again for this cutter, or split the piece.',
        { part: label },
      );
    }
    if (box.minY < slack.minY || box.maxY > slack.maxY) {
      refuse(
        'off-the-bed',
        `the part is cut from ${box.minY.toFixed(1)} to ${box.maxY.toFixed(1)} mm across the roll; the bed of ${name} is ${bed.width} mm wide.`,
        'Lay the parts on a narrower roll, or choose a wider cutter.',
        { part: label },
      );
    }
  }
}
