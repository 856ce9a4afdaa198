import { existsSync } from 'node:fs';
import { refuse } from '../../base/findings.ts';
import { listed } from '../../base/wording.ts';
import type { Order } from '../../handing/order.ts';
import type { RunContent } from '../../run/run-file.ts';
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
 * moment, but never in none. A run that has no order left is put away as it was. Throws a Refusal where an order is not
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
  saveRunFile(shop, name, runSchema.parse({ title, cutter, orders: taken }), null);
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

function withoutOrders(content: RunContent, gone: ReadonlySet<string>): RunContent {
  return { ...content, orders: content.orders.filter(({ order }) => !gone.has(order)) };
}
