import { Refusal } from '../findings.ts';
import type { Path } from '../geometry/path.ts';
import { samePoint } from '../geometry/tolerance.ts';
import type { Part } from '../handing/part.ts';
import { rollTooShort } from './findings.ts';
import { itemsOf } from './items.ts';
import type { Item } from './items.ts';
import type { Lay, LayRules, Placement, Roll } from './lay.ts';
import { usableWidth } from './lay.ts';
import type { Field } from './place.ts';
import type { Attempt } from './search.ts';
import { search } from './search.ts';

export interface LayOptions {
  /** An integer; the same seed and effort give the same lay on any machine. */
  readonly seed: number;
  /** Rounds of search, at least 1; defaultEffort is a good measure. */
  readonly effort: number;
  /** Asked between parts once there is a first lay; true ends the search with the best one so far. */
  readonly stop?: () => boolean;
  /** Told of the first lay and of each shorter one. */
  readonly progress?: (best: LayProgress) => void;
}

/** Length in mm, density as in Lay; rounds count from 1. */
export interface LayProgress {
  readonly length: number;
  readonly density: number;
  readonly round: number;
}

/** Some seconds for three sets of carpet; twice as many rounds gain half a per cent at the most. */
export const defaultEffort = 100;

/**
 * Lays the parts of one material on its roll. The first lay is always finished, whatever `stop`
 * says, so that there is one to return. No parts make a lay of length 0. Placements come in the
 * order of their labels.
 * Throws a Refusal where a part fits the roll or a bite in none of its turns, and where the lay found
 * is longer than the roll; RangeError on figures that make no sense, a label there twice, or a part
 * of another material.
 */
export function layParts(
  parts: readonly Part[],
  material: string,
  roll: Roll,
  rules: LayRules,
  options: LayOptions,
): Lay {
  checkFigures(roll, rules, options);
  checkParts(parts, material);
  const field = fieldOf(roll, rules);
  const items = itemsOf(parts, rules, field);
  if (items.length === 0) return { material, roll, rules, placements: [], length: 0, density: 0 };
  const { stop = () => false, progress } = options;
  const found = search(items, field, {
    ...options,
    stop,
    progress: ({ length }, round) =>
      progress?.({ length, density: densityOf(items, length, roll), round }),
  });
  refuseOverrun(found, roll, material);
  const { length } = found;
  const density = densityOf(items, length, roll);
  return { material, roll, rules, placements: placementsOf(found), length, density };
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

function refuseOverrun({ order, spots, length }: Attempt, roll: Roll, material: string): void {
  if (length <= roll.length + samePoint) return;
  const over = order.filter(
    (_, i) => spots[i]!.x + spots[i]!.shape.box.maxX > roll.length + samePoint,
  );
  const labels = over.map(({ label }) => label).sort();
  throw new Refusal([rollTooShort(material, length, roll.length, labels)]);
}

function checkFigures(roll: Roll, rules: LayRules, { seed, effort }: LayOptions): void {
  const figures: [name: string, value: number, fits: boolean][] = [
    ['roll width', roll.width, roll.width > 0 && roll.width < Infinity],
    ['selvedge', roll.selvedge, roll.selvedge >= 0 && roll.selvedge < Infinity],
    ['start margin', roll.startMargin, roll.startMargin >= 0 && roll.startMargin < Infinity],
    ['roll length', roll.length, roll.length > 0],
    ['gap', rules.gap, rules.gap >= 0 && rules.gap < Infinity],
    ['bite length', rules.biteLength, rules.biteLength > 0],
    ['seed', seed, Number.isSafeInteger(seed)],
    ['effort', effort, Number.isSafeInteger(effort) && effort >= 1],
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
