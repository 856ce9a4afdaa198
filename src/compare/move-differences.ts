import { decimal } from '../base/numbers.ts';
import { normalDeg, turnDeg } from '../geometry/paths/angle.ts';
import { distance } from '../geometry/paths/point.ts';
import type { StrokeMoves } from './comparable.ts';
import type { Difference, Subject } from './difference.ts';
import { difference, wordPoint } from './difference.ts';
import { factDifference } from './word-differences.ts';

/** The numbers of a stroke, and the fact that each of them is. */
const numbers = [
  ['heights', 'height'],
  ['feeds', 'feed'],
  ['travels', 'travel height'],
  ['plunges', 'plunge feed'],
  ['turns', 'turning feed'],
] as const;

/** A stroke that begins as near as this (mm) to its old start begins there. */
const sameStart = 0.005;

/**
 * The heights, feeds and headings of a stroke that differ, one difference for each number and the number that it
 * has become. `isElsewhere`: its path differs, and with it the start and the headings.
 */
export function moveDifferences(
  before: StrokeMoves,
  after: StrokeMoves,
  subject: Subject,
  isElsewhere: boolean,
): Difference[] {
  const found = numbers.flatMap(([key, name]) =>
    changesOf(before[key], after[key]).map(({ was, is, times }) =>
      factDifference({ name, ...words('was', was), ...words('is', is) }, subject, { times }),
    ),
  );
  if (isElsewhere) return found;
  if (distance(before.start, after.start) > sameStart) {
    const [was, is] = [before, after].map(({ start }) => wordPoint(start)) as [string, string];
    return [...found, factDifference({ name: 'begins at', was, is }, subject, { at: after.start })];
  }
  return [...found, ...headingDifferences(before.headings, after.headings, subject)];
}

function words(key: 'was' | 'is', value: string | null): Partial<Record<'was' | 'is', string>> {
  return value === null ? {} : { [key]: value };
}

interface Change {
  readonly was: string | null;
  readonly is: string | null;
  readonly times: number;
}

/** Which numbers have become which, and how often; move by move where there are as many moves as before. */
function changesOf(before: readonly number[], after: readonly number[]): Change[] {
  const [old, young] = [before, after].map((all) => all.map((one) => decimal(one, 3)));
  // A way to a stroke without such a move says nothing of its height or feed.
  if (old!.length === 0 || young!.length === 0) return [];
  if (old!.length !== young!.length) {
    const only = (all: readonly string[], other: readonly string[]): string | null =>
      [...new Set(all.filter((one) => !other.includes(one)))].join(', ') || null;
    const change = { was: only(old!, young!), is: only(young!, old!), times: 1 };
    return change.was === null && change.is === null ? [] : [change];
  }
  const found = new Map<string, Change>();
  for (const [i, was] of old!.entries()) {
    const is = young![i]!;
    if (was === is) continue;
    const key = `${was} ${is}`;
    found.set(key, { was, is, times: (found.get(key)?.times ?? 0) + 1 });
  }
  return [...found.values()];
}

/** Headings that differ by less than this (degrees) are the same. */
const sameHeading = 0.002;

function headingDifferences(
  before: readonly number[],
  after: readonly number[],
  subject: Subject,
): Difference[] {
  if (before.length !== after.length) return [];
  const offs = before
    .map((deg, i) => ({ off: turnDeg(deg, after[i]!), isSame: deg === after[i]! }))
    .filter(({ isSame }) => !isSame);
  const turned = offs.filter(({ off }) => Math.abs(off) > sameHeading);
  const most = turned.reduce((a, { off }) => (Math.abs(off) > Math.abs(a) ? off : a), 0);
  if (turned.length === 0) return wound(before, after, subject);
  const isOne = turned.every(({ off }) => Math.abs(off - most) <= sameHeading);
  const by = `${decimal(Math.abs(most), 3)} degrees`;
  const message = isOne
    ? `the heading of the knife is ${by} further ${most > 0 ? 'counter-clockwise' : 'clockwise'}.`
    : `the heading of the knife differs by up to ${by}.`;
  const fact = { name: 'heading', was: '0', is: decimal(most, 3) };
  return [difference('words', subject, message, { fact, times: turned.length })];
}

/** The knife points as before, but was turned there the other way round, or by whole turns more. */
function wound(
  before: readonly number[],
  after: readonly number[],
  subject: Subject,
): Difference[] {
  const others = before.filter((deg, i) => Math.abs(deg - after[i]!) > sameHeading).length;
  const isPlain = (all: readonly number[]): boolean => all.every((deg) => deg === normalDeg(deg));
  // After a whole turn or mirror headings are known to full turns only.
  if (others === 0 || isPlain(before)) return [];
  const fact = { name: 'whole turns of the knife', was: 'one way', is: 'the other way round' };
  const message = 'the knife is turned to the same headings by whole turns more or less.';
  return [difference('words', subject, message, { fact, times: others })];
}
