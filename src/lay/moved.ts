import type { Finding } from '../base/findings.ts';
import { boxesOverlap, growBox } from '../geometry/paths/box.ts';
import { boxOfPath } from '../geometry/paths/path.ts';
import { placeInPath } from '../geometry/relations/contains.ts';
import type { Path } from '../geometry/paths/path.ts';
import { pathSeparation } from '../geometry/relations/separation.ts';
import type { Part } from '../handing/part.ts';
import { decimal } from '../base/numbers.ts';
import { layError } from './findings.ts';
import type { LaidPart } from './judge.ts';
import { judgeLaid, laidPart } from './judge.ts';
import type { LayRules, Placement, Roll } from './lay.ts';
import { mayTurn, turnsInWords } from './lay.ts';

/** How much sums and roundings may be off, mm and degrees. The same as for pins. */
const tolerance = 1e-4;
const todo = 'Put it elsewhere.';

/**
 * The reasons why a part may not lie at a place among others that stay where they are. Empty: it may lie
 * there. The rules are those for a whole lay.
 */
export function judgeMoved(
  part: Part,
  placement: Placement,
  others: readonly LaidPart[],
  roll: Roll,
  rules: LayRules,
): Finding[] {
  if (!mayTurn(part, rules.turns, placement.rotation, tolerance)) {
    const message = `the part would lie at a turn of ${decimal(placement.rotation, 2)} degrees; its pile allows ${turnsInWords(part, rules.turns)}.`;
    return [layError('lay-turn', message, 'Turn it another way.', part.label)];
  }
  const moved = laidPart(part, placement);
  const reach = growBox(boxOfPath(moved.cut), rules.gap + tolerance);
  const near = others.filter(({ cut }) => boxesOverlap(boxOfPath(cut), reach));
  // The moved part comes first, since a fault between two parts is reported for the first of them.
  return judgeLaid([moved, ...near], roll, rules, tolerance)
    .filter(({ where }) => where.part === part.label)
    .map((finding) => ({ ...finding, todo }));
}

/**
 * Places are tried on rings round the place where the part was let go. `first`, `reach`: the radius of
 * the first ring and the largest radius, mm. `growth`: the factor from ring to ring. `places`: how many
 * there are on each ring.
 */
const rings = { first: 1, growth: 1.35, reach: 60, places: 24 };

/**
 * The nearest place found, within 60 mm of the given one, at which the part may lie in the same turn, in
 * whole tenths of a mm. null: there is none.
 */
export function nearestAllowed(
  part: Part,
  placement: Placement,
  others: readonly LaidPart[],
  roll: Roll,
  rules: LayRules,
): Placement | null {
  if (!mayTurn(part, rules.turns, placement.rotation, tolerance)) return null;
  const reach = growBox(boxOfPath(laidPart(part, placement).cut), rings.reach + rules.gap);
  const near = others.filter(({ cut }) => boxesOverlap(boxOfPath(cut), reach));
  for (let radius = rings.first; radius <= rings.reach; radius *= rings.growth) {
    for (let i = 0; i < rings.places; i++) {
      const angle = (2 * Math.PI * i) / rings.places;
      const tried = {
        ...placement,
        x: tenths(placement.x + radius * Math.cos(angle)),
        y: tenths(placement.y + radius * Math.sin(angle)),
      };
      if (!isClear(part, tried, near, rules.gap)) continue;
      if (judgeMoved(part, tried, near, roll, rules).length === 0) return tried;
    }
  }
  return null;
}

/** Whether a part keeps clear of all others. Much quicker than finding out what exactly is wrong. */
function isClear(
  part: Part,
  placement: Placement,
  others: readonly LaidPart[],
  gap: number,
): boolean {
  const moved = laidPart(part, placement);
  const least = Math.max(gap, tolerance);
  return others.every(
    (other) =>
      !holds(other, moved) &&
      !holds(moved, other) &&
      pathSeparation(moved.cut, other.cut, least) === Infinity,
  );
}

/** Whether the first corner of the second part lies in the material of the first, outside its cutouts. */
function holds({ cut, inner }: LaidPart, { cut: { vertices } }: LaidPart): boolean {
  const isIn = (path: Path): boolean => placeInPath(path, vertices[0]!) === 'inside';
  return isIn(cut) && !inner.some(isIn);
}

function tenths(value: number): number {
  return Math.round(value * 10) / 10;
}
