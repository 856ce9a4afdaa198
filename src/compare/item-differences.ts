import { areaOf } from '../geometry/paths/area.ts';
import { centreOf } from '../geometry/paths/box.ts';
import { boxOfPath, pathLength } from '../geometry/paths/path.ts';
import type { Path } from '../geometry/paths/path.ts';
import type { Transform } from '../geometry/paths/transform.ts';
import { identity, isMirror, transformPath } from '../geometry/paths/transform.ts';
import { decimal } from '../base/numbers.ts';
import { otherSide } from '../pattern/words.ts';
import type { Item } from './comparable.ts';
import {
  bestMotion,
  motionsBetween,
  plainMotion,
  shiftOf,
  turnOf,
} from '../geometry/fitting/motions.ts';
import { carried, detailDifferences } from './detail-differences.ts';
import { deviation, isSamePlace } from '../geometry/fitting/deviation.ts';
import type { Difference, Subject } from './difference.ts';
import { difference, wordLength, wordPoint } from './difference.ts';
import { wordDifferences } from './word-differences.ts';

/** The differences of an item that is in both inputs. */
export function itemDifferences(before: Item, after: Item, tolerance: number): Difference[] {
  const subject = { sheet: after.sheet, label: wordItem(before) };
  const geometry = geometryDifferences(before, after, tolerance, subject);
  const renamed =
    before.label === after.label
      ? []
      : [
          difference('words', subject, `is now called ${after.label ?? 'nothing'}.`, {
            at: middleOf(after),
          }),
        ];
  // A stroke that begins or lies elsewhere has other headings too, which need not be told.
  const isElsewhere = geometry.length > 0 || before.words['begins at'] !== after.words['begins at'];
  const skipped = (key: string): boolean =>
    (key === 'begins at' && geometry.length > 0) || (key.startsWith('heading') && isElsewhere);
  const elsewhere =
    before.sheet === after.sheet
      ? []
      : [
          difference('moved', subject, `lies on ${after.sheet}; it was on ${before.sheet}.`, {
            at: middleOf(after),
          }),
        ];
  return [
    ...elsewhere,
    ...geometry,
    ...renamed,
    ...wordDifferences(before.words, after.words, subject, skipped),
  ];
}

/** The name of an item for a person. */
export function wordItem({ label, what, outline }: Item): string {
  return label ?? `${what} at ${wordPoint(centreOf(boxOfPath(outline)))}`;
}

export function middleOf({ outline }: Pick<Item, 'outline'>): { x: number; y: number } {
  return centreOf(boxOfPath(outline));
}

function geometryDifferences(
  before: Item,
  after: Item,
  tolerance: number,
  subject: Subject,
): Difference[] {
  const compareDetails = (motion: Transform): Difference[] =>
    detailDifferences(carried(before.details, motion), after.details, tolerance, subject);
  if (isSamePlace(before.outline, after.outline, tolerance)) {
    const inPlace = compareDetails(identity);
    // A symmetrical outline may have been turned or mirrored onto itself. Its details show that.
    if (inPlace.length === 0) return [];
    const turned = bestOf(motionsBetween(before.outline, after.outline, tolerance), compareDetails);
    return turned === null || turned.details.length > 0
      ? inPlace
      : motionDifferences(turned.motion, before, after, tolerance, subject);
  }
  const plain = plainMotion(before.outline, after.outline, tolerance);
  const quick = plain === null ? null : bestOf([plain], compareDetails);
  const best =
    quick?.details.length === 0
      ? quick
      : bestOf(motionsBetween(before.outline, after.outline, tolerance), compareDetails);
  if (best !== null) {
    return [...motionDifferences(best.motion, before, after, tolerance, subject), ...best.details];
  }
  const motion = bestMotion(before.outline, after.outline);
  const moved = transformPath(motion, before.outline);
  return [
    outlineDifference(moved, after.outline, subject),
    ...motionDifferences(motion, before, after, tolerance, subject),
    ...compareDetails(motion),
  ];
}

/**
 * Of the motions that fit an outline, the one that fits its details best. Of several equally good ones
 * the simplest.
 */
function bestOf(
  motions: readonly Transform[],
  compareDetails: (motion: Transform) => Difference[],
): { motion: Transform; details: Difference[] } | null {
  let best: { motion: Transform; details: Difference[] } | null = null;
  for (const motion of motions) {
    const details = compareDetails(motion);
    if (best === null || details.length < best.details.length) best = { motion, details };
    if (best.details.length === 0) break;
  }
  return best;
}

function motionDifferences(
  motion: Transform,
  before: Item,
  after: Item,
  tolerance: number,
  subject: Subject,
): Difference[] {
  const shift = shiftOf(motion, before.outline);
  const at = middleOf(after);
  if (isMirror(motion)) {
    const now = before.side === null ? 'other' : otherSide(before.side);
    return [
      difference('mirrored', subject, `is mirrored: now the ${now} hand.`, {
        at,
        distance: shift,
      }),
    ];
  }
  const turn = turnOf(motion);
  const from = middleOf(before);
  const words = `from ${wordPoint(from)} to ${wordPoint(at)}`;
  if (Math.abs(turn) > 1e-3) {
    const message = `is turned by ${decimal(turn, 2)} degrees counter-clockwise${shift > tolerance ? ` and moved ${words}` : ''}.`;
    return [difference('turned', subject, message, { at, distance: shift, turnDeg: turn })];
  }
  if (shift <= tolerance) return [];
  return [
    difference(
      'moved',
      subject,
      `is moved by ${wordLength(shift)} (x ${signed(at.x - from.x)}, y ${signed(at.y - from.y)}).`,
      {
        at,
        distance: shift,
      },
    ),
  ];
}

/** A number with its sign: `+4.03`. */
function signed(value: number): string {
  const text = decimal(value, 2);
  return value > 0 && text !== '0' ? `+${text}` : text;
}

function outlineDifference(before: Path, after: Path, subject: Subject): Difference {
  const { distance: off, at } = deviation(before, after);
  if (!before.closed || !after.closed) {
    const longer = pathLength(after) - pathLength(before);
    const message = `runs otherwise: ${wordLength(off)} off at most, at ${wordPoint(at)}; ${wordLength(Math.abs(longer))} ${longer < 0 ? 'shorter' : 'longer'}.`;
    return difference('outline', subject, message, { at, distance: off });
  }
  const areaDifference = areaOf(after) - areaOf(before);
  const share = (100 * areaDifference) / areaOf(before);
  const message = `has another outline: ${wordLength(off)} off at most, at ${wordPoint(at)}; area ${areaDifference < 0 ? '' : '+'}${decimal(areaDifference, 1)} mm2 (${areaDifference < 0 ? '' : '+'}${decimal(share, 2)} %).`;
  return difference('outline', subject, message, { at, distance: off, areaDifference });
}
