import type { Finding } from '../base/findings.ts';
import { Refusal } from '../base/findings.ts';
import { areaOf } from '../geometry/paths/area.ts';
import { heightOf, widthOf } from '../geometry/paths/box.ts';
import { boxOfPath } from '../geometry/paths/path.ts';
import { samePoint } from '../geometry/paths/tolerance.ts';
import { rotation as turning, transformPath } from '../geometry/paths/transform.ts';
import type { Part } from '../handing/part.ts';
import type { Kind } from './engine/engine.ts';
import type { TurnedBox } from './findings.ts';
import { tooLong, tooWide } from './findings.ts';
import type { LayRules } from './lay.ts';
import { triedRotations } from './lay.ts';
import { grownOutline } from './outline.ts';

/** Parts with the same contours and turns. For the engine they are items of one kind. */
export interface AlikeParts {
  readonly shape: Kind;
  /** Sorted by order and set. */
  readonly parts: readonly Part[];
}

/**
 * Sorts parts into kinds. They are taken in the order of their labels, so the order in which they are
 * given does not matter. `usable`: the width into which they must fit, mm. Throws a Refusal that names
 * every part which fits the roll or the bed in none of its turns; parts that are alike are named
 * together.
 */
export function kindsOf(parts: readonly Part[], rules: LayRules, usable: number): AlikeParts[] {
  const alike = new Map<string, Part[]>();
  for (const part of [...parts].sort((a, b) => (a.label < b.label ? -1 : 1))) {
    const key = contentOf(part, rules);
    alike.set(key, [...(alike.get(key) ?? []), part]);
  }
  const leastArea = leastAreaOf(parts);
  const misfits: Finding[] = [];
  const kinds = [...alike.values()].map((same): AlikeParts => {
    const [part] = same as [Part];
    const turned = triedRotations(part, rules.turns).map((rotation): TurnedBox => ({
      rotation,
      box: boxOfPath(transformPath(turning(rotation), part.cut)),
    }));
    const across = turned.filter(({ box }) => heightOf(box) <= usable + samePoint);
    const whole = across.filter(({ box }) => widthOf(box) <= rules.biteLength + samePoint);
    // If the part lies whole on the bed in some turns, only these are used. Otherwise it is cut in two
    // passes.
    const fitting = whole.length === 0 && rules.joinOverlap !== undefined ? across : whole;
    const labels = same.map(({ label }) => label);
    if (across.length === 0) misfits.push(tooWide(labels, turned, usable));
    else if (fitting.length === 0) misfits.push(tooLong(labels, across, rules.biteLength));
    const shape = {
      ...grownOutline(part, rules.gap, leastArea),
      rotations: fitting.map(({ rotation }) => rotation),
      kept: fitting.map(({ box }) => box),
      demand: same.length,
    };
    return { shape, parts: inSets(same) };
  });
  if (misfits.length > 0) throw new Refusal(misfits);
  return kinds;
}

/** The area of the smallest part, mm2: none has room in a cutout with less. */
export function leastAreaOf(parts: readonly Part[]): number {
  return Math.min(...parts.map(({ cut }) => areaOf(cut)));
}

function contentOf(part: Part, { turns }: LayRules): string {
  return JSON.stringify([
    triedRotations(part, turns),
    part.cut,
    part.inner.map(({ path }) => path),
  ]);
}

function inSets(parts: readonly Part[]): Part[] {
  const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);
  return [...parts].sort(
    (a, b) => compare(a.order, b.order) || a.set - b.set || compare(a.label, b.label),
  );
}
