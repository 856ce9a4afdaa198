import type { Finding } from '../../base/findings.ts';
import type { Box } from '../../geometry/paths/box.ts';
import { boxContains, growBox } from '../../geometry/paths/box.ts';
import { boxOfPath, polyline } from '../../geometry/paths/path.ts';
import { boxIndex } from '../../geometry/measuring/box-index.ts';
import { boxOfSegment } from '../../geometry/paths/segment.ts';
import { pathSeparation } from '../../geometry/relations/separation.ts';
import { placeInPath } from '../../geometry/relations/contains.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { distance } from '../../geometry/paths/point.ts';
import type { Cutter } from '../../knife/cutter.ts';
import { bladeReach } from '../../knife/strokes/overcut.ts';
import { markArm } from '../../knife/waste.ts';
import type { ExpectedCut, ExpectedPart } from '../record/expected.ts';
import { fault } from './faults.ts';
import { transformPath } from '../../geometry/paths/transform.ts';
import { turnedOver } from '../../lay/face-down.ts';
import { recordedPolygon } from '../record/figures.ts';
import type { BiteRecord, LayRecord } from '../record/run-record.ts';
import type { KnifePlace, Stroke } from '../reading/trace.ts';
import { isBefore } from '../reading/trace.ts';

/** How far the knife may be from a mark when it is shown over it, mm. */
const onMark = 0.05;
/** The note before a lead-in. */
const leadInNote = 'lead-in';
/** How far rounding may put the tip outside the box of its lead-in, mm. */
const rounding = 0.01;

/** The cross of each registration mark, as cuts that must be made: its two arms. */
export function markCuts({ bites }: LayRecord): ExpectedCut[] {
  return bites.flatMap(({ mark }, i): ExpectedCut[] => {
    if (mark === null) return [];
    const [x, y] = mark;
    const arm = (dx: number, dy: number): ExpectedCut => ({
      label: `mark of bite ${i + 1}`,
      kind: 'mark',
      path: polyline(
        [
          { x: x - dx, y: y - dy },
          { x: x + dx, y: y + dy },
        ],
        false,
      ),
    });
    return [arm(markArm, 0), arm(0, markArm)];
  });
}

/**
 * For each bite, the box in which the tip stays during the lead-in. At its start the tip may be anywhere
 * round the axis.
 */
function leadInBoxes({ bites }: LayRecord, { knife }: Cutter): (Box | undefined)[] {
  const offset = knife.kind === 'trailing' ? knife.offset : 0;
  return bites.map(({ leadIn }) => {
    if (leadIn === null) return undefined;
    const [[x, y], [toX]] = leadIn;
    return { minX: x - offset, minY: y - offset, maxX: toX, maxY: y + offset };
  });
}

/**
 * Faults if what is cut in waste does not lie in waste: with all that the blade reaches it must lie away
 * from every part, and itself on the material. A mark must lie on the bed in both bites.
 */
export function proveWaste(
  parts: readonly ExpectedPart[],
  lay: LayRecord,
  cutter: Cutter,
  file: string,
): Finding[] {
  const outlines = parts.map(({ outline }) => outline);
  const near = boxIndex(outlines.map(boxOfPath));
  const cloth: Box = {
    minX: 0,
    minY: 0,
    maxX: lay.rollLength ?? Infinity,
    maxY: Math.min(lay.rollWidth, cutter.bed.width),
  };
  const remnant = remnantOnBed(lay, cutter);
  const { front, rear } = bladeReach(cutter, lay.thickness);
  const reach = Math.max(front.upper, rear.upper);
  const boxes = [
    ...leadInBoxes(lay, cutter).flatMap((box) => (box === undefined ? [] : [box])),
    ...markCuts(lay).map(({ path }) => boxOfPath(path)),
  ];
  const faults = boxes.flatMap((box) => {
    const at = { x: box.minX, y: box.minY };
    const reached = growBox(box, reach);
    const hit = near(reached).some((i) => meets(outlines[i]!, reached));
    const isOnCloth = boxContains(cloth, box) && (remnant === null || holds(remnant, box));
    if (!hit && isOnCloth) return [];
    const message = `what is to be cut in waste ${hit ? 'lies on a part' : 'does not lie on the cloth'}.`;
    return [fault('waste', message, { file, at })];
  });
  return [
    ...faults,
    ...lay.bites.flatMap((bite, i) => sharedFault(bite, lay.bites[i + 1], cutter, file)),
  ];
}

/** The outline of a remnant as it lies on the bed; null: the roll is whole. */
function remnantOnBed({ rollOutline, rollWidth }: LayRecord, { face }: Cutter): Path | null {
  if (rollOutline === null) return null;
  const outline = polyline(recordedPolygon(rollOutline), true);
  return face === 'down' ? transformPath(turnedOver(rollWidth), outline) : outline;
}

/** Whether a box lies wholly inside an outline. */
function holds(outline: Path, box: Box): boolean {
  const edge = contourOf(box);
  return (
    placeInPath(outline, edge.vertices[0]!) === 'inside' && pathSeparation(edge, outline, 1) > 0
  );
}

/** Whether a box has anything in common with what an outline encloses. */
function meets(outline: Path, box: Box): boolean {
  const edge = contourOf(box);
  return (
    placeInPath(outline, edge.vertices[0]!) !== 'outside' ||
    pathSeparation(edge, outline, 1) <= 0 ||
    boxContains(box, boxOfPath(outline))
  );
}

function contourOf({ minX, minY, maxX, maxY }: Box): Path {
  const corners = [
    { x: minX, y: minY },
    { x: maxX, y: minY },
    { x: maxX, y: maxY },
    { x: minX, y: maxY },
  ];
  return polyline(corners, true);
}

function sharedFault(
  { mark, start }: BiteRecord,
  next: BiteRecord | undefined,
  { bed }: Cutter,
  file: string,
): Finding[] {
  if (mark === null) return [];
  const [x, y] = mark;
  const onBoth = next !== undefined && x >= next.start && x <= start + bed.length;
  if (onBoth) return [];
  return [
    fault('waste', 'a registration mark is not on the bed in the bite after it.', {
      file,
      at: { x, y },
    }),
  ];
}

/**
 * The strokes without those of lead-ins, and faults of lead-ins: each must be cut once, before everything
 * else in its bite, and within its box.
 */
export function withoutLeadIns(
  strokes: readonly Stroke[],
  lay: LayRecord,
  cutter: Cutter,
  file: string,
): { strokes: readonly Stroke[]; findings: Finding[] } {
  const boxes = leadInBoxes(lay, cutter);
  const findings: Finding[] = [];
  const led = new Set<Stroke>();
  for (const [i, box] of boxes.entries()) {
    if (box === undefined) continue;
    const first = strokes.find(({ fed }) => Math.abs(fed - lay.bites[i]!.start) <= 1);
    const inBox = first?.steps.every(({ segment }) =>
      boxContains(growBox(box, rounding), boxOfSegment(segment)),
    );
    // The trace assumes that the knife points across the lead-in at its start, so the tip lies below the
    // axis, at the same x.
    const [at] = lay.bites[i]!.leadIn!;
    const begin = first?.steps[0]?.segment.from;
    const isWhole = begin !== undefined && Math.abs(begin.x - at[0]) <= onMark;
    if (inBox === true && isWhole && first!.note === leadInNote) {
      led.add(first!);
      continue;
    }
    const line = first?.steps[0]?.line;
    const message = `bite ${i + 1} does not begin with the lead-in that turns the knife, after a note that says so.`;
    findings.push(fault('lead-in', message, { file, ...(line === undefined ? {} : { line }) }));
  }
  return { strokes: strokes.filter((stroke) => !led.has(stroke)), findings };
}

/**
 * Faults if the knife is not shown over each mark exactly once, after the feed that follows it and before
 * anything is cut, or is shown elsewhere.
 */
export function proveChecks(
  checks: readonly KnifePlace[],
  strokes: readonly Stroke[],
  { bites }: LayRecord,
  file: string,
): Finding[] {
  const marks = bites
    .slice(0, -1)
    .flatMap(({ mark }, i) =>
      mark === null ? [] : [{ at: { x: mark[0], y: mark[1] }, start: bites[i + 1]!.start }],
    );
  const left = new Set(marks);
  const findings: Finding[] = [];
  for (const check of checks) {
    const { at, fed, line } = check;
    const mark = [...left].find(
      (one) => distance(one.at, at) <= onMark && Math.abs(one.start - fed) <= 1,
    );
    const isFirst = strokes.every((stroke) => stroke.fed !== fed || isBefore(check, stroke));
    if (mark !== undefined && isFirst) {
      left.delete(mark);
      continue;
    }
    const message = 'the knife is not shown over the registration mark of the feed before.';
    findings.push(fault('mark', message, { file, line, at }));
  }
  for (const { at } of left) {
    const message = 'the registration mark here is not looked for after the feed.';
    findings.push(fault('mark', message, { file, at }));
  }
  return findings;
}
