import type { Finding } from '../base/findings.ts';
import { refuse } from '../base/findings.ts';
import type { Box } from '../geometry/paths/box.ts';
import { boxContains, boxesOverlap, growBox } from '../geometry/paths/box.ts';
import { boxOfPath, polyline } from '../geometry/paths/path.ts';
import { boxIndex } from '../geometry/measuring/box-index.ts';
import { placeInPath } from '../geometry/relations/contains.ts';
import type { Path } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import { transformPath } from '../geometry/paths/transform.ts';
import type { Part } from '../handing/part.ts';
import type { Lay } from '../lay/lay.ts';
import { placementTransform } from '../lay/lay.ts';
import { overlapOf } from '../lay/overlap.ts';
import type { Bite, LeadIn } from './cuts.ts';
import type { Cutter } from './cutter.ts';

/** From the middle of a registration mark to the end of each of its four arms, mm. */
export const markArm = 5;
/** Cuts in waste stay this far from the edge of the material, mm. */
const clothEdge = 2;
/** Distance between the places that are tried, mm. */
const step = 10;

/** Whether a rectangle of the lay is waste: on the material, and away from all parts. */
type IsWaste = (box: Box) => boolean;

/**
 * Adds to bites what is cut in waste beside the parts.
 * - Between two bites, if there is room: a mark at a place that lies on the bed in both. It is cut
 *   before the feed, and the operator looks for it after the feed.
 * - For a trailing knife whose profile has a lead-in: one at the start of each bite, where nobody knows
 *   how the knife points.
 *
 * `thickness`: of the material, mm. Throws a Refusal if there is no room for a lead-in.
 */
export function withWasteCuts(
  bites: readonly Bite[],
  lay: Lay,
  parts: readonly Part[],
  cutter: Cutter,
  thickness: number,
): Bite[] {
  const taken: Box[] = [];
  const isWaste = wasteOf(lay, parts, cutter, thickness, taken);
  const done: Bite[] = [];
  for (const [i, bite] of bites.entries()) {
    const leadIn = leadInOf(bite, lay, cutter, isWaste);
    if (leadIn !== undefined) taken.push(leadInBox(leadIn.from, cutter));
    const check = done.at(-1)?.mark;
    const next = bites[i + 1];
    const mark = next === undefined ? undefined : markOf(bite, next, lay, cutter, isWaste);
    if (mark !== undefined) taken.push(markBox(mark));
    done.push({
      ...bite,
      ...(leadIn === undefined ? {} : { leadIn }),
      ...(check === undefined ? {} : { check }),
      ...(mark === undefined ? {} : { mark }),
    });
  }
  return done;
}

/** A note for each feed without a mark by which it could be checked. */
export function wasteFindings(bites: readonly Bite[], material: string): Finding[] {
  return bites.slice(0, -1).flatMap(({ mark }, i) =>
    mark !== undefined
      ? []
      : [
          {
            severity: 'note' as const,
            rule: 'no-mark',
            message: `${material} has no waste for a registration mark between bite ${i + 1} and bite ${i + 2}.`,
            todo: 'Measure that feed with a rule.',
            where: {},
          },
        ],
  );
}

function wasteOf(
  lay: Lay,
  parts: readonly Part[],
  { bed, blade, heights }: Cutter,
  thickness: number,
  taken: readonly Box[],
): IsWaste {
  const { roll } = lay;
  const lean = Math.max(blade.leanFrontDeg, blade.leanRearDeg);
  // How far a leaning blade cuts past its tip at the upper side, and 2 mm in case the material lies a
  // little off.
  const clearance = (thickness - heights.cut) * Math.tan((lean * Math.PI) / 180) + 2;
  const byLabel = new Map(parts.map((part) => [part.label, part]));
  const outlines = lay.placements.map((placement) =>
    transformPath(placementTransform(placement), byLabel.get(placement.label)!.cut),
  );
  const near = boxIndex(outlines.map(boxOfPath));
  const cloth: Box = growBox(
    { minX: 0, minY: 0, maxX: roll.length, maxY: Math.min(roll.width, bed.width) },
    -clothEdge,
  );
  const remnant = roll.outline === undefined ? undefined : polyline(roll.outline, true);
  return (box) => {
    const clear = growBox(box, clearance);
    return (
      boxContains(cloth, box) &&
      (remnant === undefined ||
        cornersOf(clear).every((p) => placeInPath(remnant, p) === 'inside')) &&
      !taken.some((other) => boxesOverlap(other, clear)) &&
      near(clear).every((i) => isApart(clear, outlines[i]!))
    );
  };
}

function isApart(box: Box, outline: Path): boolean {
  const corners = cornersOf(box);
  if (placeInPath(outline, corners[0]!) === 'inside') return false;
  return (
    overlapOf({ cut: polyline(corners, true), inner: [] }, { cut: outline, inner: [] }) === null
  );
}

function cornersOf({ minX, minY, maxX, maxY }: Box): Point[] {
  return [
    { x: minX, y: minY },
    { x: maxX, y: minY },
    { x: maxX, y: maxY },
    { x: minX, y: maxY },
  ];
}

function markOf(
  bite: Bite,
  next: Bite,
  lay: Lay,
  { bed }: Cutter,
  isWaste: IsWaste,
): Point | undefined {
  const arm = markArm + 1;
  const end = Math.min(bite.start + bed.length, lay.roll.length) - arm;
  return placesIn(next.start + arm, end, lay).find((place) => isWaste(markBox(place)));
}

function markBox({ x, y }: Point): Box {
  const arm = markArm + 1;
  return { minX: x - arm, minY: y - arm, maxX: x + arm, maxY: y + arm };
}

function leadInOf(bite: Bite, lay: Lay, cutter: Cutter, isWaste: IsWaste): LeadIn | undefined {
  const { knife, bed, name } = cutter;
  if (knife.kind !== 'trailing' || knife.leadIn === undefined) return undefined;
  const { leadIn, offset } = knife;
  const places = placesIn(bite.start + offset, bite.start + bed.length - leadIn, lay);
  const from = places.find((place) => isWaste(leadInBox(place, cutter)));
  if (from !== undefined) return { from, to: { x: from.x + leadIn, y: from.y } };
  return refuse(
    'no-lead-in',
    `there is no waste for the lead-in of ${leadIn} mm (knife.leadIn of ${name}) from ${bite.start.toFixed(0)} mm along the roll on.`,
    'Leave knife.leadIn out and turn the knife by hand, take a roll with a wider selvedge, or lay with a wider gap.',
    {},
  );
}

/**
 * The box in which the tip stays while the axis goes along a lead-in. At its start the tip may be
 * anywhere round the axis.
 */
function leadInBox({ x, y }: Point, { knife }: Cutter): Box {
  if (knife.kind !== 'trailing') throw new RangeError('only a trailing knife is led in');
  const { offset, leadIn = 0 } = knife;
  return { minX: x - offset, minY: y - offset, maxX: x + leadIn, maxY: y + offset };
}

/** The places to try: first along both selvedges, then everywhere; in each case by x. */
function placesIn(from: number, to: number, { roll }: Lay): Point[] {
  const xs = steps(Math.ceil(from), to);
  const edges = [roll.selvedge / 2, roll.width - roll.selvedge / 2];
  return [edges, steps(step, roll.width)].flatMap((ys) =>
    xs.flatMap((x) => ys.map((y) => ({ x, y }))),
  );
}

function steps(from: number, to: number): number[] {
  const count = Math.max(0, Math.floor((to - from) / step) + 1);
  return Array.from({ length: count }, (_, i) => from + i * step);
}
