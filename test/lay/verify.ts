import type { Finding } from '../../src/base/findings.ts';
import { areaOf } from '../../src/geometry/paths/area.ts';
import { boxOfPath } from '../../src/geometry/paths/path.ts';
import { samePoint } from '../../src/geometry/paths/tolerance.ts';
import type { Part } from '../../src/handing/part.ts';
import { decimal } from '../../src/base/numbers.ts';
import { layError, mmWords } from '../../src/lay/findings.ts';
import type { LaidPart } from '../../src/lay/judge.ts';
import { judgeLaid, laidPart, layAgain } from '../../src/lay/judge.ts';
import type { Lay, Placement } from '../../src/lay/lay.ts';
import { mayTurn, turnsInWords, usableWidth } from '../../src/lay/lay.ts';

/** Contours and placements are written, and overlaps judged, with six decimals: what that may add up to, mm. */
const tolerance = 5 * samePoint;

interface PlacedPart extends LaidPart {
  readonly part: Part;
  readonly placement: Placement;
}

/**
 * Everything that is wrong with a lay of these parts, judged by other code than laid it: every part
 * there once, turned only as its material allows, inside the usable roll, on the bed whole, no two
 * overlapping or nearer than the gap, length and density as stated. Nothing found: the lay is good.
 */
export function verifyLay(lay: Lay, parts: readonly Part[]): Finding[] {
  const laid = laidParts(lay, parts);
  return [
    ...checkLabels(lay, parts),
    ...laid.flatMap((item) => checkTurn(item, lay)),
    ...judgeLaid(laid, lay.roll, lay.rules, tolerance),
    ...checkFigures(laid, lay),
  ];
}

/** Placements that can be judged; what cannot is found by checkLabels. */
function laidParts({ placements }: Lay, parts: readonly Part[]): PlacedPart[] {
  const byLabel = new Map(parts.map((part) => [part.label, part]));
  return placements.flatMap((placement) => {
    const part = byLabel.get(placement.label);
    if (part === undefined || !isFinitePlacement(placement)) return [];
    return [{ ...laidPart(part, placement), part, placement }];
  });
}

function isFinitePlacement({ x, y, rotation }: Placement): boolean {
  return [x, y, rotation].every(Number.isFinite);
}

function checkLabels({ material, placements }: Lay, parts: readonly Part[]): Finding[] {
  const found: Finding[] = [];
  const fault = (rule: string, label: string, message: string): void => {
    found.push(layError(rule, message, layAgain, label));
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

function checkTurn({ part, placement }: PlacedPart, { rules }: Lay): Finding[] {
  const { rotation } = placement;
  if (mayTurn(part, rules.turns, rotation, samePoint)) return [];
  const turns = turnsInWords(part, rules.turns);
  const message = `the part is turned by ${decimal(rotation, 2)} degrees; its pile allows ${turns}.`;
  return [layError('lay-turn', message, layAgain, part.label)];
}

function checkFigures(laid: readonly PlacedPart[], lay: Lay): Finding[] {
  const length = Math.max(0, ...laid.map(({ cut }) => boxOfPath(cut).maxX));
  const area = laid.reduce(
    (sum, { cut, inner }) =>
      sum + areaOf(cut) - inner.reduce((holes, path) => holes + areaOf(path), 0),
    0,
  );
  const density = length === 0 ? 0 : area / (length * usableWidth(lay.roll));
  const found: Finding[] = [];
  if (!(Math.abs(lay.length - length) <= tolerance)) {
    const message = `the lay is said to be ${lay.length} mm long; its parts reach ${mmWords(length)}.`;
    found.push(layError('lay-length', message, layAgain));
  }
  if (!(Math.abs(lay.density - density) <= 1e-6)) {
    const message = `the lay is said to have a density of ${lay.density}; its parts make ${decimal(density, 6)}.`;
    found.push(layError('lay-density', message, layAgain));
  }
  return found;
}
