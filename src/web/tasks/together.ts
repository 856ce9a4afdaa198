import { boxOfPath } from '../../geometry/paths/path.ts';
import { rotation, transformPath } from '../../geometry/paths/transform.ts';
import type { Part } from '../../handing/part.ts';
import { materialArea } from '../../lay/lay-parts.ts';
import { allowedRotations, usableWidth } from '../../lay/lay.ts';
import type { Cloth } from '../../pattern/shop/cloth.ts';
import { clothSample } from '../../pattern/shop/cloth.ts';
import type { Turns } from '../../pattern/words.ts';
import type { Job } from '../../run/job.ts';
import { rollsOf } from '../../run/run-file.ts';
import type { ProposedOrder, Together } from '../api/together.ts';
import type { Workshop } from '../workshop/workshop.ts';
import { jobOf } from './cached-job.ts';

/**
 * Says which orders of a run are cut from one cloth, and proposes which of them come first. It changes
 * nothing. Throws a Refusal where the run is refused.
 */
export function together({ shop, run }: { shop: Workshop; run: string }): Together {
  const job = jobOf(shop, run);
  return { cloths: job.cloths.map((cloth) => sharedCloth(job, cloth)), findings: [] };
}

function sharedCloth(job: Job, cloth: Cloth): Together['cloths'][number] {
  const { material, colour } = cloth;
  const own = job.parts.filter((part) => part.material === material.name && part.colour === colour);
  const rolls = rollsOf(job.run, cloth);
  // What fits on the widest of its rolls can be cut.
  const usable = Math.max(...rolls.map(usableWidth));
  const length = rolls.reduce((sum, roll) => sum + roll.length, 0);
  const wanted = job.run.orders.flatMap(({ order, due = null }): WantedOrder[] => {
    const parts = own.filter((part) => part.order === order);
    if (parts.length === 0) return [];
    return [{ order, due, parts: parts.length, widest: widestOf(parts, material.turns) }];
  });
  return {
    material: material.name,
    colour: colour ?? null,
    title: material.title,
    sample: clothSample(cloth) ?? null,
    orders: inProposedOrder(wanted, usable),
    least: own.reduce((sum, part) => sum + materialArea(part), 0) / usable,
    length: length === Infinity ? null : length,
  };
}

/** The part of an order that takes most of the roll's width, and how much, mm. */
interface WidestPart {
  readonly name: string;
  readonly across: number;
}

interface WantedOrder {
  readonly order: string;
  readonly due: string | null;
  readonly parts: number;
  readonly widest: WidestPart;
}

function widestOf(parts: readonly Part[], turns: Turns): WidestPart {
  // All sets of an order have the same parts: it is enough to look at the first.
  return parts
    .filter(({ set }) => set === 1)
    .map((part) => ({ name: part.name, across: acrossRoll(part, turns) }))
    .reduce((widest, one) => (one.across > widest.across ? one : widest));
}

/** How much of the roll's width a part takes at least, mm: in the turn in which it takes least. */
function acrossRoll(part: Part, turns: Turns): number {
  const taken = allowedRotations(part, turns).map((deg) => {
    const { minY, maxY } = boxOfPath(transformPath(rotation(deg), part.cut));
    return maxY - minY;
  });
  return Math.min(...taken);
}

/**
 * Orders as it is proposed to cut them: by the day on which they are due, those without a day last. Of
 * one day, those come first that need the width of the roll (`usable`, mm), since small parts fill what
 * is left beside them.
 */
export function inProposedOrder(orders: readonly WantedOrder[], usable: number): ProposedOrder[] {
  const isWide = ({ widest }: WantedOrder): boolean => widest.across > usable / 2;
  const rank = (one: WantedOrder): string => `${one.due ?? 'none'} ${isWide(one) ? 0 : 1}`;
  const sorted = orders.toSorted((a, b) => (rank(a) < rank(b) ? -1 : Number(rank(a) > rank(b))));
  return sorted.map((one) => {
    const { order, due, parts, widest } = one;
    const sameDay = orders.filter((other) => other.due === due);
    const day = due === null ? 'No day is said' : `Due ${due}`;
    const across = `its widest part, ${widest.name}, takes ${Math.ceil(widest.across)} of ${Math.floor(usable)} mm across`;
    const isMixed = sameDay.some(isWide) && !sameDay.every(isWide);
    const where = !isMixed ? '' : isWide(one) ? ', before smaller ones' : ', after wider ones';
    const room = isWide(one) ? 'nothing as wide fits beside it' : 'it fits in beside others';
    return { order, due, parts, why: `${day}${where}: ${across}, so ${room}.` };
  });
}
