import { centreOf, heightOf, unionBox, widthOf } from '../geometry/paths/box.ts';
import { boxOfPath } from '../geometry/paths/path.ts';
import type { Path } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import { distance } from '../geometry/paths/point.ts';
import type { Transform } from '../geometry/paths/transform.ts';
import { identity, isMirror } from '../geometry/paths/transform.ts';
import { decimal } from '../base/numbers.ts';
import type { Detail } from './comparable.ts';
import { motionsBetween, plainMotion, shiftOf, turnOf } from '../geometry/fitting/motions.ts';
import { deviation, isSamePlace } from '../geometry/fitting/deviation.ts';
import type { Difference, Subject } from './difference.ts';
import { difference, wordLength, wordPoint } from './difference.ts';
import type { MoveFrame } from './moves-in-words.ts';
import { wordMove } from './moves-in-words.ts';
import { detailsUnder } from './whole-motion.ts';

/** Details, moved as their item has moved. */
export function carried(details: readonly Detail[], motion: Transform): readonly Detail[] {
  if (motion === identity) return details;
  return detailsUnder(motion, details);
}

/**
 * Judges whether two details are the same one, and how it has changed. null: they are not the same. An
 * empty text: it has not changed.
 */
type DetailJudge = (
  before: Path,
  after: Path,
  tolerance: number,
  frame: MoveFrame,
) => DetailChange | null;

interface DetailChange {
  readonly words: string;
  readonly distance: number | null;
  /** The place of the difference. Left out: the middle of the detail. */
  readonly at?: Point;
}

/** The judges, from the strictest to the most lenient. */
const verdicts: readonly DetailJudge[] = [samePlace, movedAlone, turnedOrMirrored, changedThere];

/**
 * Differences of the cutouts, notches and marks of an item. Details with the same role are matched, the
 * surest matches first.
 */
export function detailDifferences(
  before: readonly Detail[],
  after: readonly Detail[],
  tolerance: number,
  subject: Subject,
  frame: MoveFrame,
): Difference[] {
  let [left, right] = [[...before], [...after]];
  const found: Difference[] = [];
  const tell = (
    { role, name, path }: Detail,
    { words, distance: off, at }: DetailChange,
    now: Path = path,
  ): void => {
    const middle = centreOf(boxOfPath(path));
    const called = name === undefined ? role : `${role} ${name}`;
    const message = `${called} at ${wordPoint(middle)} ${words}.`;
    const reach = unionBox(boxOfPath(path), boxOfPath(now));
    found.push(difference('detail', subject, message, { at: at ?? middle, distance: off, reach }));
  };
  const match = (verdict: DetailJudge, isNamedAlike: boolean): void => {
    const taken = new Set<Detail>();
    left = left.filter((one) => {
      for (const other of right) {
        if (taken.has(other) || one.role !== other.role) continue;
        if (isNamedAlike && one.name !== other.name) continue;
        const told = verdict(one.path, other.path, tolerance, frame);
        if (told === null) continue;
        if (told.words !== '') tell(one, told, other.path);
        if (one.name !== other.name) found.push(renamed(one, other, subject));
        taken.add(other);
        return false;
      }
      return true;
    });
    right = right.filter((other) => !taken.has(other));
  };
  for (const isNamedAlike of [true, false]) {
    for (const verdict of verdicts) match(verdict, isNamedAlike);
  }
  for (const one of left) tell(one, { words: 'is gone', distance: null });
  for (const one of right) tell(one, { words: 'is new', distance: null });
  return found;
}

/** The same detail with another name beside it. */
function renamed(before: Detail, { name, path }: Detail, subject: Subject): Difference {
  const at = centreOf(boxOfPath(path));
  const was = before.name === undefined ? 'had no name' : `was called "${before.name}"`;
  const is = name === undefined ? 'now has none' : `is now called "${name}"`;
  const message = `${before.role} at ${wordPoint(at)} ${was} and ${is}.`;
  return difference('words', subject, message, { at });
}

function samePlace(before: Path, after: Path, tolerance: number): DetailChange | null {
  return isSamePlace(before, after, tolerance) ? { words: '', distance: null } : null;
}

function movedAlone(
  before: Path,
  after: Path,
  tolerance: number,
  frame: MoveFrame,
): DetailChange | null {
  const motion = plainMotion(before, after, tolerance);
  if (motion === null) return null;
  const shift = Math.hypot(motion.e, motion.f);
  const to = centreOf(boxOfPath(after));
  const by = wordMove({ x: motion.e, y: motion.f }, frame);
  return { words: `is moved by ${by}, now at ${wordPoint(to)}`, distance: shift, at: to };
}

function turnedOrMirrored(before: Path, after: Path, tolerance: number): DetailChange | null {
  const [motion] = motionsBetween(before, after, tolerance);
  if (motion === undefined) return null;
  const shift = shiftOf(motion, before);
  if (isMirror(motion)) return { words: 'is mirrored', distance: shift };
  return { words: `is turned by ${decimal(turnOf(motion), 2)} degrees`, distance: shift };
}

/** The detail has another shape, but lies near its old place. */
function changedThere(before: Path, after: Path): DetailChange | null {
  const [box, other] = [boxOfPath(before), boxOfPath(after)];
  const reach = Math.max(10, widthOf(box), heightOf(box));
  if (distance(centreOf(box), centreOf(other)) > reach) return null;
  const { distance: off, at } = deviation(before, after);
  return {
    words: `is changed: ${wordLength(off)} off at most, at ${wordPoint(at)}`,
    distance: off,
    at,
  };
}
