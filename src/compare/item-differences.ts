import { areaOf } from '../geometry/paths/area.ts';
import type { Box } from '../geometry/paths/box.ts';
import {
  boxOfPoints,
  centreOf,
  growBox,
  heightOf,
  unionBox,
  widthOf,
} from '../geometry/paths/box.ts';
import type { Point } from '../geometry/paths/point.ts';
import { boxOfPath, pathLength } from '../geometry/paths/path.ts';
import type { Path } from '../geometry/paths/path.ts';
import type { Transform } from '../geometry/paths/transform.ts';
import { identity, isMirror, transformPath } from '../geometry/paths/transform.ts';
import { decimal } from '../base/numbers.ts';
import { turnDeg } from '../geometry/paths/angle.ts';
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
import { moveDifferences } from './move-differences.ts';
import type { MoveFrame } from './moves-in-words.ts';
import { wordMove } from './moves-in-words.ts';
import { itemUnder } from './whole-motion.ts';
import { factDifference, wordDifferences } from './word-differences.ts';

/** Items that are in both inputs, and how they are compared. */
export interface ItemPair {
  readonly before: Item;
  readonly after: Item;
  /** Geometry that differs by no more counts as the same, mm. */
  readonly tolerance: number;
  readonly frame: MoveFrame;
}

/** The differences of an item that is in both inputs. */
export function itemDifferences(pair: ItemPair): Difference[] {
  const { before, after } = pair;
  const subject = { sheet: after.sheet, label: wordItem(before) };
  const at = middleOf(after);
  const geometry = geometryDifferences(pair, subject);
  const isRenamed = before.label !== after.label;
  const renamed = !isRenamed
    ? []
    : [
        difference('words', subject, `is now called ${after.label ?? 'nothing'}.`, {
          at,
          cause: 'renamed',
        }),
      ];
  const elsewhere =
    before.sheet === after.sheet
      ? []
      : [
          difference('moved', subject, `lies on ${after.sheet}; it was on ${before.sheet}.`, {
            at,
          }),
        ];
  return [
    ...elsewhere,
    ...geometry,
    ...renamed,
    ...(before.moves === undefined || after.moves === undefined
      ? []
      : moveDifferences(before.moves, after.moves, subject, geometry.length > 0)),
    ...pileDifferences(before, after, subject),
    ...wordDifferences(
      before.words,
      after.words,
      subject,
      (key) => isRenamed && ofTheName.has(key),
    ),
  ];
}

/** Directions that differ by less than this (degrees) are the same. */
const sameDirection = 0.005;

function pileDifferences(before: Item, after: Item, subject: Subject): Difference[] {
  const [a, b] = [before.pileDeg, after.pileDeg];
  if (a !== undefined && b !== undefined && Math.abs(turnDeg(a, b)) <= sameDirection) return [];
  if (a === undefined && b === undefined) return [];
  const word = (deg: number | undefined, key: 'was' | 'is'): object =>
    deg === undefined ? {} : { [key]: decimal(deg, 2) };
  return [factDifference({ name: 'pile runs', ...word(a, 'was'), ...word(b, 'is') }, subject)];
}

/** Facts of a part of which its label is made. */
const ofTheName = new Set(['name', 'order', 'set']);

/** The name of an item for a person. */
export function wordItem({ label, what, outline }: Item): string {
  return label ?? `${what} at ${wordPoint(centreOf(boxOfPath(outline)))}`;
}

export function middleOf({ outline }: Pick<Item, 'outline'>): Point {
  return centreOf(boxOfPath(outline));
}

function geometryDifferences(pair: ItemPair, subject: Subject): Difference[] {
  const { before, after, tolerance, frame } = pair;
  const compareDetails = (motion: Transform): Difference[] =>
    detailDifferences(carried(before.details, motion), after.details, tolerance, subject, frame);
  const shown = (found: readonly Difference[], motion: Transform): Difference[] =>
    found.map((one) =>
      one.reach === null ? one : { ...one, pair: [itemUnder(motion, before), after] },
    );
  if (isSamePlace(before.outline, after.outline, tolerance)) {
    const inPlace = compareDetails(identity);
    // A symmetrical outline may have been turned or mirrored onto itself. Its details show that.
    if (inPlace.length === 0) return [];
    const turned = bestOf(motionsBetween(before.outline, after.outline, tolerance), compareDetails);
    return turned === null || turned.details.length > 0
      ? shown(inPlace, identity)
      : motionDifferences(turned.motion, pair, subject);
  }
  const plain = plainMotion(before.outline, after.outline, tolerance);
  const quick = plain === null ? null : bestOf([plain], compareDetails);
  const best =
    quick?.details.length === 0
      ? quick
      : bestOf(motionsBetween(before.outline, after.outline, tolerance), compareDetails);
  if (best !== null) {
    return [...motionDifferences(best.motion, pair, subject), ...shown(best.details, best.motion)];
  }
  const motion = bestMotion(before.outline, after.outline);
  const moved = transformPath(motion, before.outline);
  return [
    ...shown([outlineDifference(moved, after.outline, subject)], motion),
    ...motionDifferences(motion, pair, subject),
    ...shown(compareDetails(motion), motion),
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
  { before, after, tolerance, frame }: ItemPair,
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
        cause: 'mirrored',
      }),
    ];
  }
  const turn = turnOf(motion);
  const from = middleOf(before);
  const by = wordMove({ x: at.x - from.x, y: at.y - from.y }, frame);
  const now = `now at ${wordPoint(at)}`;
  if (Math.abs(turn) > 1e-3) {
    const moved = shift > tolerance ? ` and moved by ${by}` : '';
    const message = `is turned by ${decimal(turn, 2)} degrees counter-clockwise${moved}, ${now}.`;
    return [difference('turned', subject, message, { at, distance: shift, turnDeg: turn })];
  }
  if (shift <= tolerance) return [];
  return [
    difference('moved', subject, `is moved by ${by}, ${now}.`, {
      at,
      distance: shift,
    }),
  ];
}

function outlineDifference(before: Path, after: Path, subject: Subject): Difference {
  const { distance: off, at } = deviation(before, after);
  const reach = reachOf(at, off, unionBox(boxOfPath(before), boxOfPath(after)));
  if (!before.closed || !after.closed) {
    const longer = pathLength(after) - pathLength(before);
    const message = `runs otherwise: ${wordLength(off)} off at most, at ${wordPoint(at)}; ${wordLength(Math.abs(longer))} ${longer < 0 ? 'shorter' : 'longer'}.`;
    return difference('outline', subject, message, { at, distance: off, reach });
  }
  const areaDifference = areaOf(after) - areaOf(before);
  const share = (100 * areaDifference) / areaOf(before);
  const message = `has another outline: ${wordLength(off)} off at most, at ${wordPoint(at)}; area ${areaDifference < 0 ? '' : '+'}${decimal(areaDifference, 1)} mm2 (${areaDifference < 0 ? '' : '+'}${decimal(share, 2)} %).`;
  return difference('outline', subject, message, { at, distance: off, areaDifference, reach });
}

/** The neighbourhood of a place where an outline differs, large enough to know it again on the part. */
function reachOf(at: Point, off: number, whole: Box): Box {
  const side = Math.max(widthOf(whole), heightOf(whole));
  const half = Math.min(Math.max(6 * off, 0.008 * side, 4), 0.6 * side);
  return growBox(boxOfPoints([at]), half);
}
