import type { Finding } from '../base/findings.ts';
import type { Box } from '../geometry/paths/box.ts';
import { growBox, widthOf } from '../geometry/paths/box.ts';
import { boxOfPath, polyline } from '../geometry/paths/path.ts';
import { boxIndex } from '../geometry/measuring/box-index.ts';
import { pathSeparation } from '../geometry/relations/separation.ts';
import { transformPath } from '../geometry/paths/transform.ts';
import type { Part } from '../handing/part.ts';
import { decimal } from '../base/numbers.ts';
import { layError, mmWords } from './findings.ts';
import type { LayRules, Placement, Roll } from './lay.ts';
import { placementTransform } from './lay.ts';
import type { LaidContours } from './overlap.ts';
import { beyondOf, overlapOf } from './overlap.ts';

/** A part where it lies, in the lay's frame. */
export interface LaidPart extends LaidContours {
  readonly label: string;
}

/** The contours of a part where its placement puts it. */
export function laidPart({ label, cut, inner }: Part, placement: Placement): LaidPart {
  const place = placementTransform(placement);
  return {
    label,
    cut: transformPath(place, cut),
    inner: inner.map(({ path }) => transformPath(place, path)),
  };
}

interface Judged extends LaidPart {
  readonly box: Box;
}

export const layAgain = 'Lay the parts again; do not cut this lay.';

/**
 * What is wrong with parts where they lie: outside the usable roll, over a defect, past the edge of a
 * remnant, longer than the bed, overlapping, or nearer to each other than the gap. It shares no code with
 * what laid them, so that it can judge that. `tolerance`: by how much an edge may be off because contours
 * were rounded when they were written, mm.
 */
export function judgeLaid(
  parts: readonly LaidPart[],
  roll: Roll,
  rules: LayRules,
  tolerance: number,
): Finding[] {
  const judged = parts.map((part) => ({ ...part, box: boxOfPath(part.cut) }));
  return [
    ...judged.flatMap((part) => [
      ...checkRoll(part, roll, tolerance),
      ...checkBite(part, rules, tolerance),
      ...checkDefects(part, roll, tolerance),
      ...checkOutline(part, roll, tolerance),
    ]),
    ...checkPairs(judged, rules.gap, tolerance),
  ];
}

function checkRoll({ label, box }: Judged, roll: Roll, tolerance: number): Finding[] {
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
      layError(rule, `the part reaches ${mmWords(over)} ${where}.`, layAgain, label),
    );
}

function checkBite(
  { label, box }: Judged,
  { biteLength, joinOverlap }: LayRules,
  tolerance: number,
): Finding[] {
  if (joinOverlap !== undefined) return [];
  if (widthOf(box) <= biteLength + tolerance) return [];
  const message = `the part is ${mmWords(widthOf(box))} long as it lies; the bed takes ${mmWords(biteLength)}.`;
  return [layError('lay-bite', message, layAgain, label)];
}

function checkDefects({ label, cut, inner }: Judged, roll: Roll, tolerance: number): Finding[] {
  return (roll.defects ?? []).flatMap((defect) => {
    const overlap = overlapOf({ cut, inner }, { cut: polyline(defect, true), inner: [] });
    if (overlap === null || overlap.depth <= tolerance) return [];
    const { at } = overlap;
    const message = `the part lies over a defect, ${mmWords(at.x)} along the roll and ${mmWords(at.y)} across it.`;
    return [layError('lay-defect', message, layAgain, label)];
  });
}

function checkOutline({ label, cut }: Judged, { outline }: Roll, tolerance: number): Finding[] {
  if (outline === undefined) return [];
  const beyond = beyondOf(cut, outline);
  if (beyond === null || beyond.depth <= tolerance) return [];
  const { at } = beyond;
  const message = `the part reaches past the edge of the remnant, ${mmWords(at.x)} along it and ${mmWords(at.y)} across it.`;
  return [layError('lay-remnant', message, layAgain, label)];
}

function checkPairs(laid: readonly Judged[], gap: number, tolerance: number): Finding[] {
  const index = boxIndex(laid.map(({ box }) => box));
  return laid.flatMap((a, i) =>
    index(growBox(a.box, gap))
      .filter((j) => j > i)
      .flatMap((j) => checkPair(a, laid[j]!, gap, tolerance)),
  );
}

function checkPair(a: Judged, b: Judged, gap: number, tolerance: number): Finding[] {
  const overlap = overlapOf(a, b);
  if (overlap !== null && overlap.depth > tolerance) {
    const { area, at } = overlap;
    const place = `${mmWords(at.x)} along the roll and ${mmWords(at.y)} across it`;
    const message = `the part and ${b.label} overlap by ${decimal(area, 2)} mm2 near ${place}.`;
    return [layError('lay-overlap', message, layAgain, a.label)];
  }
  const distance = separation(a, b, gap);
  if (distance >= gap - tolerance) return [];
  const message = `the part is ${decimal(distance, 3)} mm from ${b.label}; the gap is ${mmWords(gap)}.`;
  return [layError('lay-gap', message, layAgain, a.label)];
}

function separation(a: LaidContours, b: LaidContours, within: number): number {
  const pairs = [a.cut, ...a.inner].flatMap((one) =>
    [b.cut, ...b.inner].map((other) => [one, other] as const),
  );
  return Math.min(...pairs.map(([one, other]) => pathSeparation(one, other, within)));
}
