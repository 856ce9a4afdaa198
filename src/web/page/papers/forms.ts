import { recordedName } from '../../../program/record/run-record.ts';
import type { RunFolder } from '../../api/files.ts';

/** A paper, with the names of its files in each form that there is of it. */
interface PaperForms {
  readonly words: string;
  readonly look: string | null;
  readonly print: string | null;
  readonly table: string | null;
}

/** The papers of a run, in the order in which they are needed. */
export function papersOf({ files, lays }: Pick<RunFolder, 'files' | 'lays'>): PaperForms[] {
  const names = new Set(files.map(({ name }) => name));
  const orders = [...names].flatMap((name) => /^sewing-(.+)\.html$/.exec(name)?.[1] ?? []);
  const paper = (words: string, stem: string): PaperForms => {
    const form = (ending: string): string | null =>
      names.has(`${stem}.${ending}`) ? `${stem}.${ending}` : null;
    return {
      words,
      look: form('html') ?? form('svg'),
      print: form('pdf'),
      table: form('csv'),
    };
  };
  return [
    paper('Sheet for the operator', 'sheet'),
    paper('Labels', 'labels'),
    ...orders
      .sort()
      .flatMap((order) => [
        paper(`Sewing sheet, order ${order}`, `sewing-${order}`),
        paper(`Fitting sheet, order ${order}`, `fitting-${order}`),
        paper(`Packing list, order ${order}`, `packing-${order}`),
      ]),
    paper('Cost', 'cost'),
    paper('All parts', 'parts'),
    paper('Binding tape', 'binding'),
    ...lays.map((lay) => paper(`Picture of ${recordedName(lay)}`, recordedName(lay))),
  ].filter(({ look, print, table }) => look !== null || print !== null || table !== null);
}
