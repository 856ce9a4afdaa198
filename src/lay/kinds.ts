import type { Finding } from '../base/findings.ts';
import { Refusal } from '../base/findings.ts';
import { memoryByKey, rememberedFor } from '../base/remembered.ts';
import { areaOf } from '../geometry/paths/area.ts';
import { heightOf, widthOf } from '../geometry/paths/box.ts';
import type { Path } from '../geometry/paths/path.ts';
import { boxOfPath } from '../geometry/paths/path.ts';
import { samePoint } from '../geometry/paths/tolerance.ts';
import { rotation as turning, transformPath } from '../geometry/paths/transform.ts';
import type { Part } from '../handing/part.ts';
import type { Kind } from './engine/engine.ts';
import type { TurnedBox } from './findings.ts';
import { tooLong, tooWide } from './findings.ts';
import type { LayRules } from './lay.ts';
import { triedRotations } from './lay.ts';
import type { GrownOutline } from './outline.ts';
import { grownOutline } from './outline.ts';

/** Parts with the same contours and turns. For the engine they are items of one kind. */
export interface AlikeParts {
  readonly shape: Kind;
  /** Sorted by order and set. */
  readonly parts: readonly Part[];
}

/**
 * Sorts parts into kinds. They are taken in the order of their labels, so the order in which they are
 * given does not matter. `usable`: the width into which they must fit, mm. Throws as checkFitsRoll does.
 */
export function kindsOf(parts: readonly Part[], rules: LayRules, usable: number): AlikeParts[] {
  const leastArea = leastAreaOf(parts);
  return sorted(parts, rules, usable).map(({ content, same, fitting }): AlikeParts => {
    const [part] = same as [Part];
    const grown = (): GrownOutline => grownOutline(part, rules.gap, leastArea);
    const shape = {
      ...grownKept(part.cut, `${rules.gap} ${leastArea} ${content}`, grown),
      rotations: fitting.map(({ rotation }) => rotation),
      kept: fitting.map(({ box }) => box),
      demand: same.length,
    };
    return { shape, parts: inSets(same) };
  });
}

/**
 * Throws a Refusal that names every part which fits the roll or the bed in none of its turns; parts that are alike are
 * named together. `usable`: the width into which they must fit, mm.
 */
export function checkFitsRoll(parts: readonly Part[], rules: LayRules, usable: number): void {
  sorted(parts, rules, usable);
}

/** Parts that are alike, and their boxes in the turns in which they fit. */
interface FittingParts {
  readonly content: string;
  readonly same: readonly Part[];
  readonly fitting: readonly TurnedBox[];
}

function sorted(parts: readonly Part[], rules: LayRules, usable: number): FittingParts[] {
  const alike = new Map<string, Part[]>();
  for (const part of [...parts].sort((a, b) => (a.label < b.label ? -1 : 1))) {
    const key = contentOf(part, rules);
    alike.set(key, [...(alike.get(key) ?? []), part]);
  }
  const misfits: Finding[] = [];
  const kinds = [...alike].map(([content, same]): FittingParts => {
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
    return { content, same, fitting };
  });
  if (misfits.length > 0) throw new Refusal(misfits);
  return kinds;
}

/** Parts are laid again for each roll on which they are tried. */
const grownKept = memoryByKey<Path, GrownOutline>(1);

/** The area of the smallest part, mm2: none has room in a cutout with less. */
export function leastAreaOf(parts: readonly Part[]): number {
  return Math.min(...parts.map(({ cut }) => areaWithin(cut)));
}

/** The area that a contour of a part encloses, mm2. */
export const areaWithin = rememberedFor(areaOf);

function contentOf(part: Part, { turns }: LayRules): string {
  const contours = [part.cut, ...part.inner.map(({ path }) => path)];
  return [triedRotations(part, turns).join(), ...contours.map(textOf)].join(' ');
}

/** Orders that choose the same of a set share the contours of their parts, so each is written but once. */
const textOf = rememberedFor((path: Path): string => JSON.stringify(path));

function inSets(parts: readonly Part[]): Part[] {
  const compare = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0);
  return [...parts].sort(
    (a, b) => compare(a.order, b.order) || a.set - b.set || compare(a.label, b.label),
  );
}
