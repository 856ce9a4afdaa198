import type { Finding } from '../../base/findings.ts';
import type { BenchFacts } from '../../handing/bench-facts.ts';
import { benchFacts } from '../../handing/bench-facts.ts';
import { choicesKey } from '../../handing/derive.ts';
import type { Order } from '../../handing/order.ts';
import type { Part, PartKind } from '../../handing/part.ts';
import type { Cutter } from '../../knife/cutter.ts';
import type { KnifePath } from '../../knife/moves.ts';
import type { Bite } from '../../knife/cuts.ts';
import type { Lay } from '../../lay/lay.ts';
import { restLength } from '../../lay/rest.ts';
import type { LeftWork } from '../../knife/left-work.ts';
import { leftWorkOf } from '../../knife/left-work.ts';
import type { Cloth } from '../../pattern/shop/cloth.ts';
import { clothName, clothOf, isCutFrom, wordCloth } from '../../pattern/shop/cloth.ts';
import type { Material, Materials } from '../../pattern/shop/material.ts';
import { materialOf } from '../../pattern/shop/material.ts';
import type { PatternSet } from '../../pattern/set.ts';
import type { BenchRates, Work } from '../../pattern/shop/bench.ts';
import type { LabelStock } from '../../pattern/shop/label-stock.ts';
import type { LengthWords } from '../../base/wording.ts';
import { counted } from '../../base/wording.ts';

/** One lay of a run, its material, and how it is cut. */
export interface MaterialFacts {
  readonly material: Material;
  /** The lay as it lies on the bed. If it lies face down it is a mirror image. */
  readonly lay: Lay;
  /** The parts of this lay, as they lie on the bed. */
  readonly parts: readonly Part[];
  readonly bites: readonly Bite[];
  readonly knife: KnifePath;
  /** The way of the knife over each bite by itself. Empty if there is only one bite. */
  readonly single: readonly KnifePath[];
  readonly dyeLot: string | null;
}

/** One order of a run, as bench, packer and customer see it. */
export interface OrderFacts {
  readonly order: Order;
  readonly set: PatternSet;
  /** The parts of its first set, in the vehicle's frame. The other sets are the same. */
  readonly parts: readonly Part[];
  /** The parts of the set that the order does not want. */
  readonly others: readonly Part[];
  /** What parts of each kind are cut from. */
  readonly cloths: Readonly<Record<PartKind, readonly Cloth[]>>;
  /** What the bench must know about these parts, by their names in the set. */
  readonly bench: ReadonlyMap<string, BenchFacts>;
  /** What the knife leaves to be done by hand on them, by their names in the set. */
  readonly left: ReadonlyMap<string, readonly LeftWork[]>;
  /** In which order the bench works on a part. */
  readonly works: readonly Work[];
}

/** All facts that papers give about a run. */
export interface RunFacts {
  readonly run: string;
  readonly title: string;
  readonly cutter: Cutter;
  readonly orders: readonly OrderFacts[];
  readonly materials: readonly MaterialFacts[];
  readonly findings: readonly Finding[];
  /** First twelve hex digits of the SHA-256 of run.json. */
  readonly fingerprint: string;
  readonly labelStock: LabelStock;
  /** What work at the bench costs. null: nobody said. */
  readonly bench: BenchRates | null;
  readonly lengths: LengthWords;
}

/** An order with its set and its parts: those that it wants, and the whole set. */
export interface OrderToTell {
  readonly order: Order;
  readonly set: PatternSet;
  readonly parts: readonly Part[];
  readonly whole: readonly Part[];
}

/** What papers say of orders. What orders with the same choices have in common is found out once and shared. */
export function ordersFacts(
  orders: readonly OrderToTell[],
  materials: Materials,
  cutter: Cutter,
  works: readonly Work[],
): OrderFacts[] {
  const known = new Map<string, SharedFacts>();
  return orders.map(({ order, set, parts, whole }) => {
    const own = parts.filter((part) => part.set === 1);
    const key = `${order.set} ${choicesKey(order)}`;
    const shared =
      known.get(key) ?? sharedFacts({ order, set, parts: own, whole }, materials, cutter);
    known.set(key, shared);
    const others = whole.filter(({ name }) => !shared.bench.has(name));
    return { order, set, parts: own, others, ...shared, works };
  });
}

type SharedFacts = Pick<OrderFacts, 'cloths' | 'bench' | 'left'>;

function sharedFacts(
  { set, parts, whole }: OrderToTell,
  materials: Materials,
  cutter: Cutter,
): SharedFacts {
  const wanted = new Set(parts.map(({ name }) => name));
  const bench = benchFacts(whole, set, materials).filter(({ part }) => wanted.has(part));
  const left = parts.map((part): [string, LeftWork[]] => [
    part.name,
    leftWorkOf(part, cutter, materialOf(materials, part.material).thickness),
  ]);
  return {
    cloths: clothsByKind(parts, materials),
    bench: new Map(bench.map((facts) => [facts.part, facts])),
    left: new Map(left),
  };
}

function clothsByKind(parts: readonly Part[], materials: Materials): OrderFacts['cloths'] {
  const of = (kind: PartKind): Cloth[] => {
    const cloths = new Map<string, Cloth>();
    for (const part of parts) {
      if (part.kind !== kind) continue;
      const { material, colour } = part;
      cloths.set(clothName(material, colour), clothOf(part, materialOf(materials, material)));
    }
    return [...cloths.values()];
  };
  return { piece: of('piece'), pad: of('pad'), board: of('board'), underlay: of('underlay') };
}

/** What a part of an order is cut from. */
export function clothIn({ cloths }: OrderFacts, part: Part): Cloth {
  return cloths[part.kind].find((cloth) => isCutFrom(part, cloth))!;
}

/** Whether a part of the set, by its name, is among those that the order wants. */
export function isOrdered({ parts }: Pick<OrderFacts, 'parts'>, name: string): boolean {
  return parts.some((part) => part.name === name);
}

/** The orders that have parts on a lay, in their order. */
function ordersOn(
  { parts }: Pick<MaterialFacts, 'parts'>,
  orders: readonly OrderFacts[],
): OrderFacts[] {
  const on = new Set(parts.map(({ order }) => order));
  return orders.filter(({ order }) => on.has(order.order));
}

/** A lay of a run, the orders that have parts on it, and the first day on which one of them is due. */
export interface SharedLay {
  readonly lay: MaterialFacts;
  /** Their names; where not all sets of an order lie here, also how many: `1042 (1 of 3 sets)`. */
  readonly orders: readonly string[];
  /** Left out: none of them has a day. */
  readonly due?: string;
}

/** Which orders share a roll: what is due first comes first, and what has no day last. */
export function sharedLays({ materials, orders }: RunFacts): SharedLay[] {
  const lays = materials.map((lay): SharedLay => {
    const own = ordersOn(lay, orders);
    const [due] = own.flatMap(({ order }) => order.due ?? []).toSorted();
    return {
      lay,
      orders: own.map((one) => shareOf(one, lay)),
      ...(due === undefined ? {} : { due }),
    };
  });
  // Days are written so that they sort as texts; what is later than any has none.
  const day = ({ due = '~' }: SharedLay): string => due;
  return lays.toSorted((a, b) => (day(a) < day(b) ? -1 : day(a) > day(b) ? 1 : 0));
}

function shareOf({ order, others }: OrderFacts, { parts }: MaterialFacts): string {
  const own = parts.filter((part) => part.order === order.order);
  const here = new Set(own.map(({ set }) => set)).size;
  // Of a set that is only cut in part nobody says how many there are.
  const isWhole = here === order.quantity || others.length > 0;
  return isWhole ? order.order : `${order.order} (${here} of ${counted(order.quantity, 'set')})`;
}

/** What stands at the foot of every paper of a run. */
export function footOf({ run, fingerprint }: Pick<RunFacts, 'run' | 'fingerprint'>): string {
  return `run ${run}, fingerprint ${fingerprint}`;
}

/** The name of a lay's roll on paper. */
export function rollTitle({
  material,
  lay: { roll },
}: Pick<MaterialFacts, 'material' | 'lay'>): string {
  const cloth = wordCloth(clothOf(roll, material));
  return roll.name === undefined ? cloth : `${cloth}, roll ${roll.name}`;
}

/** Said of a roll, and of what is left on it, where nobody knows how long it is. */
export const lengthNotSaid = 'length not said';

/** What a lay leaves on its roll, in whole mm, as it is booked; null: not known. */
export function restWords(
  { lay }: Pick<MaterialFacts, 'lay'>,
  lengths: LengthWords,
): string | null {
  const rest = restLength(lay.roll, lay.length);
  return rest === null ? null : lengths.mm(rest);
}
