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
  const goes = coloursOf(taken);
  const rolls = runs.reduce<RunContent['rolls']>((all, { content }) => {
    const stays = coloursOf(content.orders.filter((one) => !taken.includes(one)));
    return withRolls(all, rollsOfColours(content, goes, stays));
  }, {});
  saveRunFile(shop, name, runSchema.parse({ title, cutter, orders: taken, rolls }), null);
  const emptied: string[] = [];
  for (const { name: run, content, version } of runs) {
    const gone = new Set(orders.filter((one) => one.run === run).map(({ order }) => order));
    const left = withoutOrders(content, gone);
    if (left.orders.length > 0) saveRunFile(shop, run, left, version);
    else {
      putAway(shop, run, true);
      emptied.push(run);
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

/** The run without orders, and without the rolls of colours that only these have: a roll that nobody wants stops a run. */
function withoutOrders(content: RunContent, gone: ReadonlySet<string>): RunContent {
  const orders = content.orders.filter(({ order }) => !gone.has(order));
  const goes = coloursOf(content.orders.filter(({ order }) => gone.has(order)));
  const away = new Set(rollsOfColours(content, goes, coloursOf(orders)).map(({ entry }) => entry));
  const rolls = Object.entries(content.rolls).flatMap(([material, entries]) => {
    const left = [entries].flat().filter((entry) => !away.has(entry));
    if (left.length === 0) return [];
    return [[material, Array.isArray(entries) ? left : left[0]!] as const];
  });
  return { ...content, orders, rolls: Object.fromEntries(rolls) };
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

/** The rolls of a run in colours that go, as far as none of those that stay is the same. */
function rollsOfColours(
  { rolls }: RunContent,
  goes: ReadonlySet<string>,
  stays: ReadonlySet<string>,
): RollOfMaterial[] {
  return Object.entries(rolls).flatMap(([material, entries]) =>
    [entries]
      .flat()
      .filter(({ colour = '' }) => goes.has(colour) && !stays.has(colour))
      .map((entry) => ({ material, entry })),
  );
}

/** Rolls with others added, with nothing on them; one that is there by its name and colour stays as it is. */
function withRolls(
  rolls: RunContent['rolls'],
  added: readonly RollOfMaterial[],
): RunContent['rolls'] {
  const all = new Map(
    Object.entries(rolls).map(([material, entries]) => [material, [entries].flat()]),
  );
  for (const { material, entry } of added) {
    const own = all.get(material) ?? [];
    const isThere = own.some(({ name, colour }) => name === entry.name && colour === entry.colour);
    if (!isThere) all.set(material, [...own, { ...entry, pins: [], laid: [] }]);
  }
  return Object.fromEntries(all);
}
