import type { Finding } from '../findings.ts';
import { Refusal } from '../findings.ts';
import { areaOf } from '../geometry/area.ts';
import type { Part } from '../handing/part.ts';
import { tooLong, tooWide } from './findings.ts';
import type { LayRules } from './lay.ts';
import { allowedRotations } from './lay.ts';
import type { Field } from './place.ts';
import { fitsAcross, fitsBite } from './place.ts';
import type { Shape } from './shape.ts';
import { shapeOf } from './shape.ts';

/** What parts with the same contours and turns have in common. */
interface Kind {
  readonly labels: string[];
  /** At every turn that the pile allows. */
  readonly allowed: readonly Shape[];
  /** Those of them that fit the field. */
  readonly fitting: readonly Shape[];
  /** mm2 of material. */
  readonly area: number;
}

/** A part as the search sees it. */
export interface Item {
  readonly label: string;
  /** At every allowed turn that fits the field; the same array for parts with the same contours. */
  readonly shapes: readonly Shape[];
  /** mm2 of material. */
  readonly area: number;
}

/**
 * The parts as items, in the order of their labels, so that the order in which they come has no
 * effect. Throws a Refusal that names every part which fits the field in none of its turns, those
 * that are alike together.
 */
export function itemsOf(parts: readonly Part[], rules: LayRules, field: Field): Item[] {
  const kinds = new Map<string, Kind>();
  const items: Item[] = [];
  const leastArea = Math.min(...parts.map(({ cut }) => areaOf(cut)));
  for (const part of [...parts].sort((a, b) => (a.label < b.label ? -1 : 1))) {
    const key = contentOf(part, rules);
    const kind = kinds.get(key) ?? kindOf(part, rules, field, leastArea);
    kinds.set(key, kind);
    kind.labels.push(part.label);
    items.push({ label: part.label, shapes: kind.fitting, area: kind.area });
  }
  const misfits = [...kinds.values()]
    .filter(({ fitting }) => fitting.length === 0)
    .map((kind) => misfit(kind, field));
  if (misfits.length > 0) throw new Refusal(misfits);
  return items;
}

function contentOf(part: Part, { turns }: LayRules): string {
  return JSON.stringify([
    allowedRotations(part, turns),
    part.cut,
    part.inner.map(({ path }) => path),
  ]);
}

function kindOf(part: Part, { turns, gap }: LayRules, field: Field, leastArea: number): Kind {
  const rotations = allowedRotations(part, turns);
  const allowed = rotations.map((deg) => shapeOf(part, deg, gap, leastArea));
  const fitting = allowed.filter((shape) => fitsAcross(shape, field) && fitsBite(shape, field));
  return { labels: [], allowed, fitting, area: materialArea(part) };
}

function misfit({ labels, allowed }: Kind, field: Field): Finding {
  const across = allowed.filter((shape) => fitsAcross(shape, field));
  return across.length === 0 ? tooWide(labels, allowed, field) : tooLong(labels, across, field);
}

/** mm2 of the cut contour less its inner contours. */
function materialArea(part: Part): number {
  return part.inner.reduce((area, { path }) => area - areaOf(path), areaOf(part.cut));
}
