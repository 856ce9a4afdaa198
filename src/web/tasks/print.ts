import { readFileSync } from 'node:fs';
import { parse } from 'csv-parse/sync';
import { refuse } from '../../base/findings.ts';
import { sha256 } from '../../base/sha256.ts';
import type { HandedOver } from '../../base/threads/task.ts';
import { joinedPdf } from '../../papers/documents/joined-pdf.ts';
import type { JoinedPage, PdfSource } from '../../papers/documents/joined-pdf.ts';
import { readOwnPdf, sizeOfPage } from '../../papers/documents/own-pdf.ts';
import { fromPoints } from '../../papers/documents/points.ts';
import { chosenLabels } from '../../papers/sheets/chosen-labels.ts';
import { readRunRecord } from '../../program/record/record.ts';
import type { RunRecord } from '../../program/record/run-record.ts';
import { readList } from '../../publishing/file-list.ts';
import type { PrintWish, RunPaper, RunPapers } from '../api/papers.ts';
import type { Workshop } from '../workshop/workshop.ts';
import { placeIn, runFolderIn } from '../workshop/workshop.ts';

/** What can be printed of a run folder. Throws a Refusal where it cannot be read. */
export function papers({ shop, run }: { shop: Workshop; run: string }): RunPapers {
  const folder = runFolderIn(shop, run);
  const record = readRunRecord(placeIn(folder, 'run.json'));
  const { title, columns, rows } = record.labelStock;
  return {
    papers: [...readList(folder).keys()].flatMap((file): RunPaper[] => {
      const name = /^(.+)\.pdf$/.exec(file)?.[1];
      const kind = name === undefined ? null : kindOf(name);
      if (kind === null) return [];
      const { pdf } = sourceIn(folder, file);
      const [width, height] = sizeOfPage(pdf.objects.get(pdf.pages[0]!)!, file).map(fromPoints);
      return [{ ...kind, name: name!, pages: pdf.pages.length, width: width!, height: height! }];
    }),
    labels: labelsIn(folder, record),
    labelSheet: { title, columns, rows },
  };
}

function kindOf(name: string): Pick<RunPaper, 'what' | 'order'> | null {
  if (name === 'sheet' || name === 'labels' || name === 'cost') return { what: name, order: null };
  const [, what, order] = /^(sewing|fitting|packing)-(.+)$/.exec(name) ?? [];
  return what === undefined
    ? null
    : { what: what as 'sewing' | 'fitting' | 'packing', order: order! };
}

/**
 * Joins papers of a run folder into one PDF, or gives one page of it. Throws a Refusal where there is no such
 * paper, label or page.
 */
export function print({
  shop,
  run,
  wish,
}: {
  shop: Workshop;
  run: string;
  wish: PrintWish;
}): HandedOver<Uint8Array<ArrayBuffer>> {
  const folder = runFolderIn(shop, run);
  const all = wish.papers.flatMap((name): JoinedPage[] => {
    const source = sourceIn(folder, `${name}.pdf`);
    if (name === 'labels' && (wish.labels !== undefined || wish.begin > 0)) {
      return labelPages(source, folder, wish);
    }
    return source.pdf.pages.map((_, page) => ({ source, page }));
  });
  const pages = wish.page === undefined ? all : all.slice(wish.page - 1, wish.page);
  if (pages.length === 0) {
    refuse('print', 'there is no such page.', 'Choose at least one paper, then a page of it.');
  }
  const value = joinedPdf(`Papers of run ${run}`, pages);
  return { value, transfer: [value.buffer] };
}

function labelPages(source: PdfSource, folder: string, wish: PrintWish): JoinedPage[] {
  const record = readRunRecord(placeIn(folder, 'run.json'));
  const { columns, rows } = record.labelStock;
  const labels = labelsIn(folder, record);
  const chosen = wish.labels?.flatMap(rangeOf) ?? labels.map((_, i) => i);
  if (chosen.some((number) => number < 0 || number >= labels.length)) {
    refuse('print', `this run has ${labels.length} labels.`, 'Choose among them.');
  }
  if (wish.begin >= columns * rows) {
    refuse('print', `a sheet has ${columns * rows} labels.`, 'Begin at one of them.');
  }
  return chosenLabels(source, record.labelStock, chosen, wish.begin);
}

/** The numbers of labels from 0 that `7-9` means. */
function rangeOf(text: string): number[] {
  const [from, to = from] = text.split('-').map(Number);
  return Array.from({ length: Math.max(0, to! - from! + 1) }, (_, i) => from! + i - 1);
}

/** The PDF of that name as it was proven. Throws a Refusal where it is not that any more. */
function sourceIn(folder: string, file: string): PdfSource {
  return { file, pdf: readOwnPdf(provenBytes(folder, file), file) };
}

function provenBytes(folder: string, file: string): Uint8Array {
  const hash = readList(folder).get(file);
  if (hash === undefined) {
    return refuse('file', `this run has no file "${file}".`, 'Open the run again.');
  }
  const bytes = readFileSync(placeIn(folder, file));
  if (sha256(bytes) === hash) return bytes;
  return refuse('not-proven', `${file} is not what was written.`, 'Make the files anew.', { file });
}

/** All labels of a run as they stand on their sheets: parts.csv has that order, and a recut that of its record. */
function labelsIn(folder: string, { parts }: RunRecord): RunPapers['labels'] {
  const orders = new Map(parts.map(({ label, order }) => [label, order]));
  const inOrder = readList(folder).has('parts.csv')
    ? labelsInTable(new TextDecoder().decode(provenBytes(folder, 'parts.csv')))
    : parts.map(({ label }) => label);
  return inOrder.map((label) => ({ label, order: orders.get(label) ?? '' }));
}

function labelsInTable(text: string): string[] {
  const rows: { label: string }[] = parse(text, { columns: true, bom: true });
  return rows.map(({ label }) => label);
}
