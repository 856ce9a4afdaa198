import { existsSync } from 'node:fs';
import { refuse } from '../../base/findings.ts';
import { listed } from '../../base/wording.ts';
import type { Order } from '../../handing/order.ts';
import type { RollEntry, RunContent } from '../../run/run-file.ts';
import { runSchema } from '../../run/run-file.ts';
import type { OpenedRun } from '../api/run-file.ts';
import type { Gathered, GatherWish } from '../api/runs.ts';
import { putAway } from './archive.ts';
import { isBegun } from './cut-marks.ts';
import { openRunFile, saveRunFile } from './run-file.ts';
import type { Workshop } from './workshop.ts';
import { runFileIn } from './workshop.ts';

/**
 * Makes a run of orders that leave their runs. The new run is written first: an order may then be in two runs for a
 * moment, but never in none. Rolls in colours that only these orders want go with them. A run that has no order left is put away as it was. Throws a Refusal where an order is not
 * there, where two are called the same, where orders are kept in a CSV, or where the cutting of their run has begun;
 * then nothing is changed.
 */
export function gatherOrders(
  shop: Workshop,
  { title, name, cutter, orders }: GatherWish,
): Gathered {
  if (existsSync(runFileIn(shop, name))) {
    refuse('name', `there is a run "${name}" already.`, 'Give the new one another title.');
  }
  const runs = [...new Set(orders.map(({ run }) => run))].map((run) => openRunFile(shop, run));
  for (const { name: run, ordersFile } of runs) {
    if (ordersFile === null) continue;
    refuse(
      'orders-file',
      `the orders of ${run} are kept in ${ordersFile}.`,
      'Take them out of that file, or cut them there.',
    );
  }
  for (const { name: run } of runs) {
    if (!isBegun(shop, run)) continue;
    refuse(
      'cut-begun',
      `the cutting of ${run} has begun.`,
      'Its orders stay there: somebody may have cut of them already.',
    );
  }
  const taken = orders.map(({ run, order }) => orderIn(runs, run, order));
  const names = taken.map(({ order }) => order);
  const twice = names.filter((one, i) => names.indexOf(one) !== i);
  if (twice.length > 0) {
    refuse(
      'same-order',
      `two of these orders are called ${listed([...new Set(twice)])}.`,
      'Give one of them another name in its run first.',
    );
  }
  const parted = runs.map((run) => ({ run, ...partedRun(run.content, new Set(taken)) }));
  const rolls = rollsByMaterial(parted.flatMap((one) => one.rolls));
  saveRunFile(shop, name, runSchema.parse({ title, cutter, orders: taken, rolls }), null);
  const emptied: string[] = [];
  for (const { run, left } of parted) {
    if (left.orders.length > 0) saveRunFile(shop, run.name, left, run.version);
    else {
      putAway(shop, run.name, true);
      emptied.push(run.name);
    }
  }
  return { name, emptied };
}

function orderIn(runs: readonly OpenedRun[], run: string, order: string): Order {
  const found = runs
    .find(({ name }) => name === run)
    ?.content.orders.find((one) => one.order === order);
  return (
    found ??
    refuse('order', `${run} has no order ${order} any more.`, 'Open the list of orders again.')
  );
}

/**
 * What is left of a run without some of its orders, and the rolls that go with them: those in colours that only these
 * orders want, for a roll that nobody wants stops a run.
 */
function partedRun(
  content: RunContent,
  taken: ReadonlySet<Order>,
): { readonly left: RunContent; readonly rolls: readonly RollOfMaterial[] } {
  const orders = content.orders.filter((one) => !taken.has(one));
  const goes = coloursOf(content.orders.filter((one) => taken.has(one)));
  const stays = coloursOf(orders);
  const goesAway = ({ colour = '' }: RollEntry): boolean => goes.has(colour) && !stays.has(colour);
  const written = Object.entries(content.rolls);
  const rolls = written.flatMap(([material, entries]) => {
    const left = [entries].flat().filter((entry) => !goesAway(entry));
    if (left.length === 0) return [];
    return [[material, Array.isArray(entries) ? left : left[0]!] as const];
  });
  return {
    left: { ...content, orders, rolls: Object.fromEntries(rolls) },
    rolls: written.flatMap(([material, entries]) =>
      [entries]
        .flat()
        .filter(goesAway)
        .map((entry) => ({ material, entry })),
    ),
  };
}

/** The colours that orders choose of materials. */
function coloursOf(orders: readonly Order[]): ReadonlySet<string> {
  const chosen = orders.flatMap(({ carpet, pad, board, underlay }) => [
    carpet,
    pad,
    board,
    underlay,
  ]);
  return new Set(
    chosen.flatMap((one) =>
      typeof one === 'object' && one.colour !== undefined ? [one.colour] : [],
    ),
  );
}

interface RollOfMaterial {
  readonly material: string;
  readonly entry: RollEntry;
}

/** Rolls by their material, with nothing on them; of those of one name and colour the first. */
function rollsByMaterial(added: readonly RollOfMaterial[]): RunContent['rolls'] {
  const all = new Map<string, RollEntry[]>();
  for (const { material, entry } of added) {
    const own = all.get(material) ?? [];
    const isThere = own.some(({ name, colour }) => name === entry.name && colour === entry.colour);
    if (!isThere) all.set(material, [...own, { ...entry, pins: [], laid: [] }]);
  }
  return Object.fromEntries(all);
}
