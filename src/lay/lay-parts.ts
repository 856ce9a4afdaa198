import { Refusal } from '../base/findings.ts';
import type { Path } from '../geometry/paths/path.ts';
import { samePoint } from '../geometry/paths/tolerance.ts';
import type { Part } from '../handing/part.ts';
import { clothName } from '../pattern/shop/cloth.ts';
import { rounded } from '../base/numbers.ts';
import type { Engine, ItemPlacement as EnginePlacement, Limit, Nest } from './engine/engine.ts';
import { nestInStreams } from './engine/engine.ts';
import { reachOf } from './bites.ts';
import { rollTooShort } from './findings.ts';
import { obstaclesOn } from './obstacles.ts';
import { besidePins, checkPins, checkStart, pinnedKinds } from './pins.ts';
import type { AlikeParts } from './kinds.ts';
import { areaWithin, kindsOf, leastAreaOf } from './kinds.ts';
import type { Lay, LayRules, Placement, Roll } from './lay.ts';
import { usableWidth } from './lay.ts';

/** Rounds of moves in a search if the run file does not say: a few seconds for three sets of carpet. */
export const defaultEffort = 4000;

/** How a lay is searched for. */
export interface LaySearch {
  /** An integer from which random choices begin: another one gives another search. */
  readonly seed: number;
  readonly limit: Limit;
  readonly threads?: number;
  /** One byte. Setting it to one of `ending` ends the search early. */
  readonly stop?: SharedArrayBuffer;
  /** Where it is searched. Left out: in threads that end with the search. */
  readonly engine?: Engine;
  /** Parts that a person has placed. All others are laid around them. */
  readonly pins?: readonly Placement[];
  /** An earlier lay, with which the search begins. Parts that it does not have are added. */
  readonly start?: readonly Placement[];
  /** Called with every lay that is shorter than all before it. */
  readonly found?: (lay: FoundLay) => void;
  /** Called a few times a second with what is being tried on a roll. Parts may overlap there. */
  readonly trying?: (roll: Roll, placements: readonly Placement[]) => void;
}

/** A lay that is shorter than all found before it. */
export interface FoundLay extends Pick<Lay, 'roll' | 'length' | 'density'> {
  /**
   * Gives the places of its parts. They are worked out only when asked for, since only a picture needs
   * them.
   */
  readonly placements: () => readonly Placement[];
}

/**
 * The engine ignores overlaps less deep than this, mm. In the written lay parts may be nearer to each
 * other by that much.
 */
const slack = 2e-6;

/**
 * Lays the parts of one material. If the limit is in rounds, the same seed gives the same lay on any
 * machine, with any number of threads and in whatever order the parts are given. Without parts the lay
 * has length 0. Placements stand in the order of their labels. Parts that are alike are placed so that
 * each set lies together. The lay may be longer than the roll: see checkRollLength.
 *
 * Throws a Refusal if a part fits the roll or the machine's bed in none of its turns. Throws RangeError
 * if a figure makes no sense, a label is there twice, or a part is of another material.
 */
export async function layParts(
  parts: readonly Part[],
  material: string,
  roll: Roll,
  rules: LayRules,
  search: LaySearch,
): Promise<Lay> {
  checkFigures(roll, rules, search.seed);
  checkParts(parts, material, roll.colour);
  if (parts.length === 0) {
    return { material, roll, rules, placements: [], length: 0, density: 0 };
  }
  const pins = search.pins ?? [];
  checkPins(pins, parts, roll, rules);
  checkStart(search.start ?? [], parts, roll, rules);
  const start = clearOf(pins, search.start ?? [], parts, roll, rules);
  const isPinned = new Set(pins.map(({ label }) => label));
  const free = parts.filter(({ label }) => !isPinned.has(label));
  const kinds = kindsOf(free, rules, usableWidth(roll));
  // The sum is always made in the same order, so that its rounding does not depend on the order in which
  // parts are given.
  const area = inOrder(parts).reduce((sum, part) => sum + materialArea(part), 0);
  const densityOf = (length: number): number => area / (length * usableWidth(roll));
  const nest = await nestInStreams(
    {
      width: usableWidth(roll),
      kinds: kinds.map(({ shape }) => shape),
      fixed: obstaclesOn(roll),
      pinned: pinnedKinds(pins, parts, roll, rules, leastAreaOf(free)),
      taken: Math.max(0, lengthOf(pins, parts) - roll.startMargin),
      slack,
      ...(search.start === undefined ? {} : { start: startOf(start, kinds, roll) }),
    },
    {
      seed: search.seed,
      limit: search.limit,
      threads: search.threads ?? 1,
      stop: search.stop ?? new SharedArrayBuffer(1),
      ...(search.engine && { engine: search.engine }),
    },
    {
      found: (found) => {
        const length = roll.startMargin + found.length;
        const placed = (): Placement[] => placementsOf(found, kinds, roll, pins);
        search.found?.({ roll, length, density: densityOf(length), placements: placed });
      },
      ...(search.trying === undefined
        ? {}
        : {
            trying: (tried) =>
              search.trying!(roll, placementsOf(tried, onlyThose(tried, kinds), roll, pins)),
          }),
    },
  );
  const placements = placementsOf(nest, kinds, roll, pins);
  const length = lengthOf(placements, parts);
  return { material, roll, rules, placements, length, density: densityOf(length) };
}

/** Of an earlier lay what the pins leave where it is. */
function clearOf(
  pins: readonly Placement[],
  start: readonly Placement[],
  parts: readonly Part[],
  roll: Roll,
  rules: LayRules,
): readonly Placement[] {
  // Most lays have only the one or the other: nothing is judged again for them.
  if (pins.length === 0 || start.length === 0) return start;
  const byLabel = new Map(parts.map((part) => [part.label, part]));
  return besidePins(start, pins, byLabel, roll, rules).start;
}

/**
 * The places of an earlier lay, in the frame of the engine's strip, which begins at the start margin and
 * inside the selvedge.
 */
function startOf(
  placements: readonly Placement[],
  kinds: readonly AlikeParts[],
  { startMargin, selvedge }: Roll,
): EnginePlacement[] {
  const kindOf = new Map(
    kinds.flatMap(({ parts }, kind) => parts.map(({ label }) => [label, kind] as const)),
  );
  return placements.flatMap(({ label, x, y, rotation }) => {
    const kind = kindOf.get(label);
    return kind === undefined ? [] : [{ kind, rotation, x: x - startMargin, y: y - selvedge }];
  });
}

/**
 * The engine's layout as placements. Parts that are alike can change places, so the first set gets the
 * places nearest to the start of the roll, the next set the following ones, and so on: each set lies
 * together.
 */
function placementsOf(
  nest: Nest,
  kinds: readonly AlikeParts[],
  roll: Roll,
  pins: readonly Placement[],
): Placement[] {
  const placements = kinds.flatMap(({ parts }, kind) => {
    const spots = nest.placements
      .filter((one) => one.kind === kind)
      .sort((a, b) => a.x - b.x || a.y - b.y);
    return parts.map(({ label }, i): Placement => {
      const { x, y, rotation } = spots[i]!;
      // Rounded to the six decimals of the record, so that what is proven is exactly this lay.
      return {
        label,
        x: rounded(x + roll.startMargin, 6),
        y: rounded(y + roll.selvedge, 6),
        rotation,
      };
    });
  });
  return [...placements, ...pins].sort((a, b) => (a.label < b.label ? -1 : 1));
}

/**
 * For each kind, as many parts as the layout has items of it. A layout that is only being tried may have
 * fewer items.
 */
function onlyThose({ placements }: Nest, kinds: readonly AlikeParts[]): AlikeParts[] {
  return kinds.map((one, i) => {
    const count = placements.filter(({ kind }) => kind === i).length;
    return { ...one, parts: one.parts.slice(0, count) };
  });
}

function lengthOf(placements: readonly Placement[], parts: readonly Part[]): number {
  const byLabel = new Map(parts.map((part) => [part.label, part]));
  return placements.reduce((most, placement) => Math.max(most, endOf(placement, byLabel)), 0);
}

function endOf(placement: Placement, byLabel: ReadonlyMap<string, Part>): number {
  return reachOf(byLabel.get(placement.label)!, placement).maxX;
}

function inOrder(parts: readonly Part[]): Part[] {
  return [...parts].sort((a, b) => (a.label < b.label ? -1 : 1));
}

/** The area of material in a part, mm2: the cut contour without its inner contours. */
export function materialArea(part: Part): number {
  return part.inner.reduce((area, { path }) => area - areaWithin(path), areaWithin(part.cut));
}

/**
 * Throws a Refusal if the lay is longer than its roll. It says how much is missing and which parts lie
 * past the end.
 */
export function checkRollLength(lay: Lay, parts: readonly Part[]): void {
  const { material, length, roll, placements } = lay;
  if (length <= roll.length + samePoint) return;
  const byLabel = new Map(parts.map((part) => [part.label, part]));
  const over = placements.filter((one) => endOf(one, byLabel) > roll.length + samePoint);
  const labels = over.map(({ label }) => label);
  throw new Refusal([rollTooShort(clothName(material, roll.colour), length, roll, labels)]);
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

function checkParts(parts: readonly Part[], material: string, colour: string | undefined): void {
  const labels = new Set<string>();
  for (const part of parts) {
    if (labels.has(part.label)) throw new RangeError(`part ${part.label} is there twice`);
    labels.add(part.label);
    if (part.material !== material || part.colour !== colour) {
      const [own, wanted] = [clothName(part.material, part.colour), clothName(material, colour)];
      throw new RangeError(`part ${part.label} is of ${own}, not ${wanted}`);
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
