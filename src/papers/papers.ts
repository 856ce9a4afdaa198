import { costSheet } from './sheets/cost-sheet.ts';
import type { Paper } from './documents/document.ts';
import { paperHtml } from './documents/document-html.ts';
import { paperPdf } from './documents/document-pdf.ts';
import { fittingGuide } from './facts/fitting-guide.ts';
import { fittingPicture } from './pictures/fitting/fitting-picture.ts';
import { fittingPlan } from './pictures/fitting/fitting-plan.ts';
import { fittingSheet, planRoom } from './sheets/fitting-sheet.ts';
import { labelsPdf, runLabels } from './sheets/labels.ts';
import { bindingCsv, partsCsv } from './tables/part-tables.ts';
import { once } from './facts/once.ts';
import type { OrderFacts, RunFacts } from './facts/run-facts.ts';
import { packingList } from './sheets/packing-list.ts';
import { sewingSheet } from './sheets/sewing-sheet.ts';
import { runSheet } from './sheets/sheet.ts';

export type PaperFiles = Map<string, string | Uint8Array>;

/**
 * All papers of a run, by their names in its folder. Papers of an order have its name. `before`: called
 * before each of them is made, with how many are done; what it throws ends the work.
 */
export async function runPapers(
  facts: RunFacts,
  before: (done: number, of: number) => Promise<void> = async () => {},
): Promise<PaperFiles> {
  const files: PaperFiles = new Map();
  const makers = [
    () => addPaper(files, 'sheet', runSheet(facts)),
    () => addPaper(files, 'cost', costSheet(facts)),
    () => addLabels(files, facts),
    ...facts.orders.flatMap((one) => [
      () => addPaper(files, `sewing-${one.order.order}`, sewingSheet(one, facts)),
      () => addFitting(files, one, facts),
      () => addPaper(files, `packing-${one.order.order}`, packingList(one, facts)),
    ]),
  ];
  for (const [done, make] of makers.entries()) {
    await before(done, makers.length);
    await make();
  }
  files.set('parts.csv', partsCsv(facts));
  files.set('binding.csv', bindingCsv(facts));
  return files;
}

async function addLabels(files: PaperFiles, facts: RunFacts): Promise<void> {
  const labels = runLabels(facts);
  files.set('labels.pdf', await labelsPdf(labels, facts.labelStock, `Labels: ${facts.title}`));
}

async function addFitting(files: PaperFiles, one: OrderFacts, facts: RunFacts): Promise<void> {
  const { order } = one.order;
  const guide = fittingGuide(one, facts.lengths);
  const height = planRoom(one, guide, facts);
  const plan = once(one.bench, `plan ${height}`, () => fittingPlan(one, guide, height));
  files.set(`fitting-${order}.svg`, fittingPicture(one, guide, plan));
  files.set(`fitting-${order}.pdf`, await paperPdf(fittingSheet(one, guide, plan, facts)));
}

async function addPaper(files: PaperFiles, name: string, paper: Paper): Promise<void> {
  files.set(`${name}.html`, paperHtml(paper));
  files.set(`${name}.pdf`, await paperPdf(paper));
}
