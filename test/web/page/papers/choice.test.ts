import { describe, expect, it } from 'vitest';
import type { RunPaper, RunPapers } from '../../../../src/web/api/papers.ts';
import type { PrintChoice } from '../../../../src/web/page/papers/choice.ts';
import {
  printedLabels,
  everything,
  ordersIn,
  printedPages,
  printQuery,
  readersIn,
  wantedPapers,
} from '../../../../src/web/page/papers/choice.ts';

const paper = (what: RunPaper['what'], order: string | null, pages: number): RunPaper => ({
  name: order === null ? what : `${what}-${order}`,
  what,
  order,
  pages,
  width: 210,
  height: 297,
});

const run: RunPapers = {
  papers: [
    paper('cost', null, 2),
    paper('fitting', 'B', 2),
    paper('fitting', 'A', 2),
    paper('labels', null, 2),
    paper('packing', 'A', 1),
    paper('packing', 'B', 1),
    paper('sewing', 'A', 5),
    paper('sewing', 'B', 4),
    paper('sheet', null, 7),
  ],
  labels: ['A', 'B', 'A', 'A', 'B', 'A', 'B', 'A'].map((order, i) => ({
    label: `part-${i}.1.${order}`,
    order,
  })),
  labelSheet: { title: 'six', columns: 2, rows: 3 },
};

function choice(part: Partial<PrintChoice>): PrintChoice {
  return { ...everything(run), ...part };
}

function names(part: Partial<PrintChoice>): string[] {
  return wantedPapers(run, choice(part)).map(({ name }) => name);
}

describe('the papers that are printed', () => {
  it('are all there are to begin with, kind after kind', () => {
    expect(names({})).toEqual([
      'sheet',
      'labels',
      'sewing-A',
      'sewing-B',
      'fitting-A',
      'fitting-B',
      'packing-A',
      'packing-B',
      'cost',
    ]);
    expect(ordersIn(run)).toEqual(['A', 'B']);
    expect(readersIn(run)).toEqual(['operator', 'bench', 'packer', 'customer', 'office']);
    expect(printQuery(run, everything(run))).toEqual({
      papers: 'sheet,labels,sewing-A,sewing-B,fitting-A,fitting-B,packing-A,packing-B,cost',
    });
  });

  it('are those of chosen readers and orders, with all of an order together if asked', () => {
    expect(names({ readers: new Set(['bench']), orders: new Set(['B']) })).toEqual(['sewing-B']);
    expect(names({ readers: new Set(['packer']) })).toEqual([
      'fitting-A',
      'fitting-B',
      'packing-A',
      'packing-B',
    ]);
    expect(names({ sorted: 'order' })).toEqual([
      'sheet',
      'labels',
      'sewing-A',
      'fitting-A',
      'packing-A',
      'sewing-B',
      'fitting-B',
      'packing-B',
      'cost',
    ]);
    expect(names({ readers: new Set() })).toEqual([]);
  });

  it('are told page by page, without what is left out', () => {
    const left = choice({ readers: new Set(['operator', 'office']), left: new Set(['sheet']) });
    const pages = printedPages(run, left).map(({ paper: { name }, page, of }) => [name, page, of]);
    expect(pages).toEqual([
      ['labels', 1, 2],
      ['labels', 2, 2],
      ['cost', 1, 2],
      ['cost', 2, 2],
    ]);
  });
});

describe('the labels that are printed', () => {
  it('are those of chosen orders, but for those left out, as ranges from 1', () => {
    const some = choice({ orders: new Set(['A']), leftLabels: new Set([5]) });
    expect(printedLabels(run, some)).toEqual([0, 2, 3, 7]);
    expect(printQuery(run, some)).toMatchObject({ labels: '1,3-4,8' });
  });

  it.each([
    // Six places on a sheet.
    [8, 0, 2],
    [8, 4, 2],
    [8, 5, 3],
    [1, 5, 1],
    [2, 5, 2],
    [0, 5, 0],
  ])('%i of them from place %i on need %i sheets', (count, begin, sheets) => {
    const leftLabels = new Set(run.labels.map((_, i) => i).slice(count));
    const own = choice({ leftLabels, begin, readers: new Set(['operator']) });
    const pages = printedPages(run, own).filter(({ paper: { what } }) => what === 'labels');
    expect(pages).toHaveLength(sheets);
    // What takes no page is not asked for.
    expect(printQuery(run, own).papers).toBe(sheets === 0 ? 'sheet' : 'sheet,labels');
  });
});
