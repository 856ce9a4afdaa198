import { costSheet } from './sheets/cost-sheet.ts';
import type { Paper } from './documents/document.ts';
import { paperHtml } from './documents/document-html.ts';
import { paperPdf } from './documents/document-pdf.ts';
import { fittingPicture, fittingPlan } from './pictures/fitting-picture.ts';
import { fittingSheet } from './sheets/fitting-sheet.ts';
import { labelsPdf, runLabels } from './sheets/labels.ts';
import { bindingCsv, partsCsv } from './tables/part-tables.ts';
import type { OrderFacts, RunFacts } from './facts/run-facts.ts';
import { sewingSheet } from './sheets/sewing-sheet.ts';
import { runSheet } from './sheets/sheet.ts';

export type PaperFiles = Map<string, string | Uint8Array>;

/** All papers of a run, by their names in its folder. Papers of an order have its name. */
export async function runPapers(facts: RunFacts): Promise<PaperFiles> {
  const files: PaperFiles = new Map();
  await addPaper(files, 'sheet', runSheet(facts));
  await addPaper(files, 'cost', costSheet(facts));
  files.set('parts.csv', partsCsv(facts));
  files.set('binding.csv', bindingCsv(facts));
  files.set(
    'labels.pdf',
    await labelsPdf(runLabels(facts), facts.labelStock, `Labels: ${facts.title}`),
  );
  for (const one of facts.orders) await addOrderPapers(files, one, facts);
  return files;
}

async function addOrderPapers(files: PaperFiles, one: OrderFacts, facts: RunFacts): Promise<void> {
  const { order } = one.order;
  await addPaper(files, `sewing-${order}`, sewingSheet(one, facts));
  const plan = fittingPlan(one, facts.lengths);
  files.set(`fitting-${order}.svg`, fittingPicture(one, plan));
  files.set(`fitting-${order}.pdf`, await paperPdf(fittingSheet(one, plan, facts)));
}

async function addPaper(files: PaperFiles, name: string, paper: Paper): Promise<void> {
  files.set(`${name}.html`, paperHtml(paper));
  files.set(`${name}.pdf`, await paperPdf(paper));
}
