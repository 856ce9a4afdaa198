import { Refusal } from '../findings.ts';
import { boxOfPath } from '../geometry/box.ts';
import type { Path } from '../geometry/path.ts';
import { samePoint } from '../geometry/tolerance.ts';
import { transformPath } from '../geometry/transform.ts';
import type { Part } from '../handing/part.ts';
import { rollTooShort } from './findings.ts';
import { itemsOf } from './items.ts';
import type { Item } from './items.ts';
import type { Lay, LayRules, Placement, Roll } from './lay.ts';
import { placementTransform, usableWidth } from './lay.ts';
import type { Field } from './place.ts';
import type { Attempt } from './search.ts';
import { search } from './search.ts';

/** Where the search for a lay stands. */
export interface LayState {
  /** The best lay so far; null until every part lies somewhere. */
  readonly lay: Lay | null;
  /** Rounds of search finished. */
  readonly rounds: number;
}

/** Rounds: a few seconds for three sets of carpet; twice as many gain a per cent at the most. */
export const defaultEffort = 100;

/**
 * Lays the parts of one material, yielding after every part that is laid, so that whoever asks can
 * look up, show how far it is, and stop at any time. Goes on for as long as it is asked; the same
 * seed (an integer) gives the same lays on any machine, whatever the order of the parts. No parts
 * make a lay of length 0. Placements come in the order of their labels. A lay may be longer than the
 * roll: see checkRollLength.
 * Throws a Refusal where a part fits the roll or a bite in none of its turns; RangeError on figures
 * that make no sense, a label there twice, or a part of another material.
 */
export function* layRounds(
  parts: readonly Part[],
  material: string,
  roll: Roll,
  rules: LayRules,
  seed: number,
): Generator<LayState> {
  checkFigures(roll, rules, seed);
  checkParts(parts, material);
  const items = itemsOf(parts, rules, fieldOf(roll, rules));
  if (items.length === 0) {
    yield { lay: { material, roll, rules, placements: [], length: 0, density: 0 }, rounds: 1 };
    return;
  }
  let known: Attempt | null = null;
  let lay: Lay | null = null;
  for (const { best, rounds } of search(items, fieldOf(roll, rules), seed)) {
    if (best !== null && best !== known) {
      known = best;
      const { length } = best;
      const density = densityOf(items, length, roll);
      lay = { material, roll, rules, placements: placementsOf(best), length, density };
    }
    yield { lay, rounds };
  }
}

/** The best lay after so many rounds; see layRounds. Throws as that and checkRollLength do. */
export function layParts(
  parts: readonly Part[],
  material: string,
  roll: Roll,
  rules: LayRules,
  { seed, effort }: { seed: number; effort: number },
): Lay {
  if (!(effort >= 1)) throw new RangeError(`a lay cannot have an effort of ${effort}`);
  let best: Lay | null = null;
  for (const { lay, rounds } of layRounds(parts, material, roll, rules, seed)) {
    best = lay;
    if (rounds >= effort && lay !== null) break;
  }
  if (best === null) throw new RangeError('a search without a round finds no lay');
  checkRollLength(best, parts);
  return best;
}

/** Throws a Refusal where the lay is longer than its roll: by how much, and which parts are past its end. */
export function checkRollLength(lay: Lay, parts: readonly Part[]): void {
  const { material, length, roll, placements } = lay;
  if (length <= roll.length + samePoint) return;
  const byLabel = new Map(parts.map((part) => [part.label, part]));
  const over = placements.filter((placement) => {
    const { cut } = byLabel.get(placement.label)!;
    return (
      boxOfPath(transformPath(placementTransform(placement), cut)).maxX > roll.length + samePoint
    );
  });
  const labels = over.map(({ label }) => label);
  throw new Refusal([rollTooShort(material, length, roll.length, labels)]);
}

function fieldOf(roll: Roll, { biteLength }: LayRules): Field {
  const { startMargin: minX, selvedge: minY } = roll;
  return { minX, minY, maxY: roll.width - roll.selvedge, biteLength };
}

function densityOf(items: readonly Item[], length: number, roll: Roll): number {
  return items.reduce((sum, { area }) => sum + area, 0) / (length * usableWidth(roll));
}

function placementsOf({ order, spots }: Attempt): Placement[] {
  const placements = order.map(({ label }, i): Placement => {
    const { x, y, shape } = spots[i]!;
    return { label, x, y, rotation: shape.rotation };
  });
  return placements.sort((a, b) => (a.label < b.label ? -1 : 1));
}

function checkFigures(roll: Roll, rules: LayRules, seed: number): void {
  const figures: [name: string, value: number, fits: boolean][] = [
    ['roll width', roll.width, roll.width > 0 && roll.width < Infinity],
    ['selvedge', roll.selvedge, roll.selvedge >= 0 && roll.selvedge < Infinity],
    ['start margin', roll.startMargin, roll.startMargin >= 0 && roll.startMargin < Infinity],
    ['roll length', roll.length, roll.length > 0],
    ['gap', rules.gap, rules.gap >= 0 && rules.gap < Infinity],
    ['bite length', rules.biteLength, rules.biteLength > 0],
    ['seed', seed, Number.isSafeInteger(seed)],
  ];
  const wrong = figures.find(([, , fits]) => !fits);
  if (wrong !== undefined) throw new RangeError(`a lay cannot have a ${wrong[0]} of ${wrong[1]}`);
}

function checkParts(parts: readonly Part[], material: string): void {
  const labels = new Set<string>();
  for (const part of parts) {
    if (labels.has(part.label)) throw new RangeError(`part ${part.label} is there twice`);
    labels.add(part.label);
    if (part.material !== material) {
      throw new RangeError(`part ${part.label} is of ${part.material}, not ${material}`);
    }
    if (![part.cut, ...part.inner.map(({ path }) => path)].every(isContour)) {
      throw new RangeError(`part ${part.label} has a contour that is none`);
    }
  }
}

function isContour({ closed, vertices }: Path): boolean {
  const numbers = vertices.flatMap(({ x, y, bulge }) => [x, y, bulge]);
  return closed && vertices.length > 1 && numbers.every(Number.isFinite);
}
