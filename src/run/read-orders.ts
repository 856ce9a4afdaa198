import type { Finding, Place } from '../base/findings.ts';
import {
  findingsWithTellers,
  hasErrors,
  inOrderOfLines,
  Refusal,
  refuseErrors,
} from '../base/findings.ts';
import { shownNames } from '../base/wording.ts';
import type { DerivedParts } from '../handing/derive.ts';
import { choicesKey, derivedFor, deriveParts } from '../handing/derive.ts';
import type { Order } from '../handing/order.ts';
import { choiceOf } from '../handing/order-choices.ts';
import type { PatternSet, SetFiles } from '../pattern/set.ts';
import { readSetFiles } from '../pattern/set.ts';
import type { Materials } from '../pattern/shop/material.ts';
import { readKnownMaterials } from '../pattern/shop/material.ts';
import type { OrderedSet, PlaceInOrder } from './check-orders.ts';
import { choiceFindings, finishFindings, orderFindings } from './check-orders.ts';
import type { RunFile } from './run-file.ts';
import { setFolder } from './run-file.ts';

/** The orders of a run with their sets, parts and materials. */
interface ReadOrders {
  readonly ordered: readonly OrderedSet[];
  readonly materials: Materials;
  /** Warnings and notes on sets, orders and parts. */
  readonly findings: readonly Finding[];
}

interface Entry {
  readonly order: Order;
  readonly placeOf: PlaceInOrder;
}

/**
 * Reads the sets of all orders, each as the order has chosen it, and derives their parts. Throws a Refusal
 * with all that is wrong: an order that asks for what there is not is told, and the others are looked at
 * all the same.
 */
export function readOrders(
  run: RunFile,
  sharedFolder: string,
  setOf = setReader(run, sharedFolder),
): ReadOrders {
  const wrong: Finding[] = [];
  const isFine = (findings: readonly Finding[]): boolean => {
    wrong.push(...findings);
    return !hasErrors(findings);
  };
  const entries = run.orders
    .map((order, i): Entry => ({ order, placeOf: placeInOrder(run, i) }))
    .filter(({ order, placeOf }) => isFine(finishFindings(order, sharedFolder, placeOf)))
    .map((entry) => ({ ...entry, set: setOf(entry.order) }))
    .filter(({ order, set, placeOf }) => isFine(choiceFindings(order, set, sharedFolder, placeOf)));
  const ofSets = entries.flatMap(({ set }) => set.findings);
  if (hasErrors(ofSets)) refuseErrors(inOrderOfLines([...wrong, ...ofSets]));
  const named = entries.flatMap(({ set }) => [...set.materials]);
  // A Map keeps the last of several equal keys. Reversed, it keeps the first place that names a material.
  const { materials, findings: unread } = readKnownMaterials(
    new Map(named.toReversed()),
    sharedFolder,
  );
  if (hasErrors(unread)) refuseErrors(inOrderOfLines([...wrong, ...unread]));
  const derived = derivedOnce(entries, materials);
  const ordered = entries.map(({ order, set }, i): OrderedSet => {
    const { parts, whole } = derived[i]!;
    return { order, set, parts, whole };
  });
  const ofOrders = entries.flatMap(({ placeOf }, i) =>
    orderFindings(ordered[i]!, materials, placeOf),
  );
  refuseErrors(inOrderOfLines([...wrong, ...ofOrders]));
  const told = entries.map(({ order, set }, i) => ({
    order,
    findings: [...set.findings, ...derived[i]!.findings],
  }));
  return { ordered, materials, findings: [...ofOrders, ...toldByOrder(told)] };
}

/** The parts of each order. Orders that choose the same of a set are derived once. */
function derivedOnce(
  entries: readonly { readonly order: Order; readonly set: PatternSet }[],
  materials: Materials,
): DerivedParts[] {
  const known = new Map<PatternSet, Map<string, DerivedParts>>();
  return entries.map(({ order, set }) => {
    const ofSet = known.get(set) ?? new Map<string, DerivedParts>();
    known.set(set, ofSet);
    const key = choicesKey(order);
    const alike = ofSet.get(key);
    if (alike !== undefined) return derivedFor(order, alike);
    const own = deriveParts(set, order, materials);
    ofSet.set(key, own);
    return own;
  });
}

/** Orders that can be read, and those that are left out with what is wrong with them. */
interface SoundOrders {
  readonly run: RunFile;
  readonly left: readonly { readonly order: string; readonly findings: readonly Finding[] }[];
}

/** The run without the orders that are refused, each held against the shop by itself. */
export function withSoundOrders(run: RunFile, sharedFolder: string): SoundOrders {
  const setOf = setReader(run, sharedFolder);
  const findings = run.orders.map((order, i) => {
    const placeOf: RunFile['placeOf'] = ([, , ...keys]) => run.placeOf(['orders', i, ...keys]);
    try {
      const alone = { ...run, orders: [{ ...order, quantity: 1 }], placeOf };
      return readOrders(alone, sharedFolder, setOf).findings.filter(
        ({ severity }) => severity === 'error',
      );
    } catch (error) {
      if (!(error instanceof Refusal)) throw error;
      return error.findings;
    }
  });
  return {
    run: { ...run, orders: run.orders.filter((_, i) => findings[i]!.length === 0) },
    left: run.orders.flatMap(({ order }, i) =>
      findings[i]!.length === 0 ? [] : [{ order, findings: findings[i]! }],
    ),
  };
}

function placeInOrder(run: RunFile, i: number): PlaceInOrder {
  return (...keys): Place => run.placeOf(['orders', i, ...keys]);
}

/**
 * Reads the set of an order as it has chosen it. Files are read once, and orders that choose the same
 * share a set.
 */
function setReader(run: RunFile, sharedFolder: string): (order: Order) => PatternSet {
  const files = new Map<string, SetFiles>();
  const known = new Map<string, PatternSet>();
  return (order) => {
    const read = files.get(order.set) ?? readSetFiles(setFolder(run, order.set), sharedFolder);
    files.set(order.set, read);
    const choice = choiceOf(order);
    const key = JSON.stringify([order.set, choice]);
    const set = known.get(key) ?? read.chosen(choice);
    known.set(key, set);
    return set;
  };
}

/** What was found in the set of an order. */
interface ToldOfOrder {
  readonly order: Order;
  readonly findings: readonly Finding[];
}

/**
 * What was found in the sets of orders. What is so with the choice of some orders alone, and not with that
 * of all others of the same set and hand, says of which.
 */
function toldByOrder(told: readonly ToldOfOrder[]): Finding[] {
  return findingsWithTellers(told, ({ order }) => order.set).map(({ finding, by }) => {
    const { hand } = finding.where;
    const isMeant = ({ order }: ToldOfOrder): boolean =>
      order.set === by[0]!.order.set && (hand === undefined || order.hand === hand);
    if (told.filter(isMeant).every((one) => by.includes(one))) return finding;
    const names = shownNames(by.map(({ order }) => order.order));
    const choice = `${by.length === 1 ? 'order' : 'orders'} ${names}`;
    return { ...finding, where: { ...finding.where, choice } };
  });
}
