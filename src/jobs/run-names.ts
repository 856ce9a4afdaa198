import { biteName } from '../lay/bites.ts';
import type { RunRecord } from '../program/record/run-record.ts';
import { recordedName } from '../program/record/run-record.ts';

/** The names of all files that a run of this record writes, but for the list of them. */
export function namesOfRun({ lays, orders, recutOf }: RunRecord): Set<string> {
  const ofLays = lays.flatMap((lay) => {
    const { length } = lay.bites;
    const bites = length < 2 ? [] : lay.bites.map((_, i) => biteName(i + 1, length));
    return filesOfLay(recordedName(lay), bites);
  });
  const papers = ['sheet.html', 'sheet.pdf', 'labels.pdf'];
  if (recutOf !== null) return new Set(['run.json', ...ofLays, ...papers]);
  const ofOrders = orders.flatMap(({ order }) => filesOfOrder(order));
  const others = ['cost.html', 'cost.pdf', 'parts.csv', 'binding.csv'];
  return new Set(['run.json', ...ofLays, ...papers, ...others, ...ofOrders]);
}

/** The files of a lay, and of its bites where it has several. */
export function filesOfLay(lay: string, bites: readonly string[]): string[] {
  const ends = ['dxf', 'svg', 'nc', 'dry.nc', ...bites.map((bite) => `${bite}.nc`)];
  return ends.map((end) => `${lay}.${end}`);
}

/** The papers of an order. */
export function filesOfOrder(order: string): string[] {
  return [
    `sewing-${order}.html`,
    `sewing-${order}.pdf`,
    `fitting-${order}.svg`,
    `fitting-${order}.pdf`,
    `packing-${order}.html`,
    `packing-${order}.pdf`,
  ];
}
