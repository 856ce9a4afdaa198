import type { Finding } from '../findings.ts';
import { turnDeg } from '../geometry/angle.ts';
import { areaOf } from '../geometry/area.ts';
import type { Box } from '../geometry/box.ts';
import { boxesOverlap, boxOfPath, growBox } from '../geometry/box.ts';
import { pathSeparation } from '../geometry/separation.ts';
import { samePoint } from '../geometry/tolerance.ts';
import { transformPath } from '../geometry/transform.ts';
import type { Part } from '../handing/part.ts';
import { decimal } from '../numbers.ts';
import { layError, mm } from './findings.ts';
import type { Lay, Placement } from './lay.ts';
import { allowedRotations, placementTransform, usableWidth } from './lay.ts';
import type { LaidContours } from './overlap.ts';
import { overlapOf } from './overlap.ts';

/** Contours and placements are written, and overlaps judged, with six decimals: what that may add up to, mm. */
const tolerance = 5 * samePoint;

interface LaidPart extends LaidContours {
  readonly part: Part;
  readonly placement: Placement;
  readonly box: Box;
}

const again = 'Lay the parts again; do not cut this lay.';

/**
 * Everything that is wrong with a lay of these parts, judged by other code than laid it: every part
 * there once, turned only as its material allows, inside the usable roll, across no bite line, no two
 * overlapping or nearer than the gap, length and density as stated. Nothing found: the lay is good.
 */
export function verifyLay(lay: Lay, parts: readonly Part[]): Finding[] {
  const laid = laidParts(lay, parts);
  return [
    ...checkLabels(lay, parts),
    ...laid.flatMap((item) => [
      ...checkTurn(item, lay),
      ...checkRoll(item, lay),
      ...checkBite(item, lay),
    ]),
    ...checkPairs(laid, lay.rules.gap),
    ...checkFigures(laid, lay),
  ];
}

/** Placements that can be judged; what cannot is found by checkLabels. */
function laidParts({ placements }: Lay, parts: readonly Part[]): LaidPart[] {
  const byLabel = new Map(parts.map((part) => [part.label, part]));
  return placements.flatMap((placement) => {
    const part = byLabel.get(placement.label);
    if (part === undefined || !isFinitePlacement(placement)) return [];
    const turn = placementTransform(placement);
    const cut = transformPath(turn, part.cut);
    const inner = part.inner.map(({ path }) => transformPath(turn, path));
    return [{ part, placement, cut, inner, box: boxOfPath(cut) }];
  });
}

function isFinitePlacement({ x, y, rotation }: Placement): boolean {
  return [x, y, rotation].every(Number.isFinite);
}

function checkLabels({ material, placements }: Lay, parts: readonly Part[]): Finding[] {
  const found: Finding[] = [];
  const fault = (rule: string, label: string, message: string): void => {
    found.push(layError(rule, message, again, label));
  };
  for (const { label, material: own } of parts) {
    const count = placements.filter((placement) => placement.label === label).length;
    if (count === 0) fault('lay-missing', label, 'the part is not in the lay.');
    if (count > 1) fault('lay-doubled', label, `the part is in the lay ${count} times.`);
    if (own !== material)
      fault('lay-material', label, `the part is of ${own}, the lay of ${material}.`);
  }
  const known = new Set(parts.map(({ label }) => label));
  for (const placement of placements) {
    const { label, x, y, rotation } = placement;
    if (!known.has(label))
      fault('lay-unknown', label, 'the lay has a part that is not in the run.');
    if (!isFinitePlacement(placement)) {
      fault('lay-number', label, `the part is placed at ${x}, ${y}, turned by ${rotation}.`);
    }
  }
  return found;
}

function checkTurn({ part, placement }: LaidPart, { rules }: Lay): Finding[] {
  const { rotation } = placement;
  const allowed = allowedRotations(part, rules.turns);
  if (allowed.some((deg) => Math.abs(turnDeg(deg, rotation)) <= samePoint)) return [];
  const turns = allowed.map((deg) => decimal(deg, 2)).join(', ');
  const message = `the part is turned by ${decimal(rotation, 2)} degrees; its pile allows ${turns}.`;
  return [layError('lay-turn', message, again, part.label)];
}

function checkRoll({ part, box }: LaidPart, { roll }: Lay): Finding[] {
  const edges: [rule: string, over: number, where: string][] = [
    ['lay-start', roll.startMargin - box.minX, 'into the margin at the start of the roll'],
    ['lay-end', box.maxX - roll.length, 'past the end of the roll'],
    ['lay-selvedge', roll.selvedge - box.minY, 'over the selvedge at y = 0'],
    [
      'lay-selvedge',
      box.maxY - (roll.width - roll.selvedge),
      'over the selvedge at the full width',
    ],
  ];
  return edges
    .filter(([, over]) => over > tolerance)
    .map(([rule, over, where]) =>
      layError(rule, `the part reaches ${mm(over)} ${where}.`, again, part.label),
    );
}

function checkBite({ part, box }: LaidPart, { rules }: Lay): Finding[] {
  if (rules.biteLength === Infinity) return [];
  const bite = Math.floor((box.minX + tolerance) / rules.biteLength);
  const line = (bite + 1) * rules.biteLength;
  if (box.maxX <= line + tolerance) return [];
  const message = `the part lies from ${mm(box.minX)} to ${mm(box.maxX)} across the bite line at ${mm(line)}.`;
  return [layError('lay-bite', message, again, part.label)];
}

function checkPairs(laid: readonly LaidPart[], gap: number): Finding[] {
  return laid.flatMap((a, i) =>
    laid
      .slice(i + 1)
      .filter((b) => boxesOverlap(growBox(a.box, gap), b.box))
      .flatMap((b) => checkPair(a, b, gap)),
  );
}

function checkPair(a: LaidPart, b: LaidPart, gap: number): Finding[] {
  const overlap = overlapOf(a, b);
  if (overlap !== null && overlap.depth > tolerance) {
    const { area, at } = overlap;
    const place = `${mm(at.x)} along the roll and ${mm(at.y)} across it`;
    const message = `the part and ${b.part.label} overlap by ${decimal(area, 2)} mm2 near ${place}.`;
    return [layError('lay-overlap', message, again, a.part.label)];
  }
  const distance = separation(a, b, gap);
  if (distance >= gap - tolerance) return [];
  const message = `the part is ${decimal(distance, 3)} mm from ${b.part.label}; the gap is ${mm(gap)}.`;
  return [layError('lay-gap', message, again, a.part.label)];
}

function separation(a: LaidContours, b: LaidContours, within: number): number {
  const pairs = [a.cut, ...a.inner].flatMap((one) =>
    [b.cut, ...b.inner].map((other) => [one, other] as const),
  );
  return Math.min(...pairs.map(([one, other]) => pathSeparation(one, other, within)));
}

function checkFigures(laid: readonly LaidPart[], lay: Lay): Finding[] {
  const length = Math.max(0, ...laid.map(({ box }) => box.maxX));
  const area = laid.reduce(
    (sum, { cut, inner }) =>
      sum + areaOf(cut) - inner.reduce((holes, path) => holes + areaOf(path), 0),
    0,
  );
  const density = length === 0 ? 0 : area / (length * usableWidth(lay.roll));
  const found: Finding[] = [];
  if (!(Math.abs(lay.length - length) <= tolerance)) {
    const message = `the lay is said to be ${lay.length} mm long; its parts reach ${mm(length)}.`;
    found.push(layError('lay-length', message, again));
  }
  if (!(Math.abs(lay.density - density) <= 1e-6)) {
    const message = `the lay is said to have a density of ${lay.density}; its parts make ${decimal(density, 6)}.`;
    found.push(layError('lay-density', message, again));
  }
  return found;
}
