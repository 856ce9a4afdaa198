import type { RunPaper, RunPapers } from '../../api/papers.ts';

/** Who reads papers, in the order in which they are needed. */
const readers = ['operator', 'bench', 'packer', 'customer', 'office'] as const;
export type Reader = (typeof readers)[number];

const readersOf: Readonly<Record<RunPaper['what'], readonly Reader[]>> = {
  sheet: ['operator'],
  labels: ['operator'],
  sewing: ['bench'],
  fitting: ['packer', 'customer'],
  packing: ['packer'],
  cost: ['office'],
};

const kinds = ['sheet', 'labels', 'sewing', 'fitting', 'packing', 'cost'] as const;

/** What is to be printed. */
export interface PrintChoice {
  readonly readers: ReadonlySet<Reader>;
  readonly orders: ReadonlySet<string>;
  /** Papers that are left out, by their names, though somebody chosen reads them. */
  readonly left: ReadonlySet<string>;
  /** The numbers of labels, from 0, that are left out, though their orders are chosen. */
  readonly leftLabels: ReadonlySet<number>;
  /** How many places of the first sheet of labels are used already. */
  readonly begin: number;
  /** What stays together: all papers of one kind, or all of one order. */
  readonly sorted: 'kind' | 'order';
}

/** Everything there is. */
export function everything(papers: RunPapers): PrintChoice {
  return {
    readers: new Set(readers),
    orders: new Set(ordersIn(papers)),
    left: new Set(),
    leftLabels: new Set(),
    begin: 0,
    sorted: 'kind',
  };
}

/** The orders of a run that papers or labels are about. */
export function ordersIn({ papers, labels }: RunPapers): string[] {
  const all = [...papers, ...labels].flatMap(({ order }) => order ?? []);
  return [...new Set(all)].sort();
}

/** Those for whom there is any paper at all. */
export function readersIn({ papers }: RunPapers): Reader[] {
  return readers.filter((reader) => papers.some(({ what }) => readersOf[what].includes(reader)));
}

/** The papers that chosen readers and orders want, in the order in which they are printed; also those left out. */
export function wantedPapers({ papers }: RunPapers, choice: PrintChoice): RunPaper[] {
  const wanted = papers.filter(
    ({ what, order }) =>
      readersOf[what].some((reader) => choice.readers.has(reader)) &&
      (order === null || choice.orders.has(order)),
  );
  const rank = ({ what }: RunPaper): number => kinds.indexOf(what);
  const name = ({ order }: RunPaper): string => order ?? '';
  const byName = (a: RunPaper, b: RunPaper): number =>
    name(a) < name(b) ? -1 : name(a) > name(b) ? 1 : 0;
  // What is about the whole run frames the orders: the operator’s papers first, the cost last.
  const part = (one: RunPaper): number => (one.order === null ? (one.what === 'cost' ? 2 : 0) : 1);
  return wanted.toSorted((a, b) =>
    choice.sorted === 'order' && part(a) === 1 && part(b) === 1
      ? byName(a, b) || rank(a) - rank(b)
      : part(a) - part(b) || rank(a) - rank(b) || byName(a, b),
  );
}

/** The numbers of the labels that are printed, from 0. */
export function printedLabels({ labels }: RunPapers, choice: PrintChoice): number[] {
  return labels.flatMap(({ order }, i) =>
    choice.orders.has(order) && !choice.leftLabels.has(i) ? [i] : [],
  );
}

/** How many pages a paper takes, labels as many as those that are chosen need. */
export function pagesOfPaper(paper: RunPaper, papers: RunPapers, choice: PrintChoice): number {
  if (paper.what !== 'labels') return paper.pages;
  const count = printedLabels(papers, choice).length;
  const { columns, rows } = papers.labelSheet;
  return count === 0 ? 0 : Math.ceil((choice.begin + count) / (columns * rows));
}

/** One page that will be printed. */
export interface PrintedPage {
  readonly paper: RunPaper;
  /** The number of the page in its paper, from 1, and how many that has. */
  readonly page: number;
  readonly of: number;
}

/** All pages that will be printed, one after the other. */
export function printedPages(papers: RunPapers, choice: PrintChoice): PrintedPage[] {
  return wantedPapers(papers, choice)
    .filter(({ name }) => !choice.left.has(name))
    .flatMap((paper) => {
      const of = pagesOfPaper(paper, papers, choice);
      return Array.from({ length: of }, (_, i) => ({ paper, page: i + 1, of }));
    });
}

/** What is printed in one, as `PrintWish` of the server reads it. */
interface PrintedInOne {
  readonly papers: string;
  readonly labels?: string;
  readonly begin?: string;
}

/** What the server is asked for, as it stands behind the question mark of an address. */
export function printQuery(papers: RunPapers, choice: PrintChoice): PrintedInOne {
  const names = [...new Set(printedPages(papers, choice).map(({ paper }) => paper.name))];
  const chosen = printedLabels(papers, choice);
  const areAll = chosen.length === papers.labels.length;
  return {
    papers: names.join(','),
    ...(areAll || !names.includes('labels') ? {} : { labels: ranges(chosen) }),
    ...(choice.begin === 0 ? {} : { begin: String(choice.begin) }),
  };
}

/** Rising numbers from 0 as ranges from 1: `1-3,7`. */
function ranges(numbers: readonly number[]): string {
  const found: [from: number, to: number][] = [];
  for (const number of numbers) {
    const last = found.at(-1);
    if (last?.[1] === number - 1) last[1] = number;
    else found.push([number, number]);
  }
  return found.map(([from, to]) => (from === to ? `${from + 1}` : `${from + 1}-${to + 1}`)).join();
}

/** What a paper is called. */
export function paperWords({ what, order }: Pick<RunPaper, 'what' | 'order'>): string {
  const words = {
    sheet: 'Sheet for the operator',
    labels: 'Labels',
    sewing: 'Sewing sheet',
    fitting: 'Fitting sheet',
    packing: 'Packing list',
    cost: 'Cost',
  }[what];
  return order === null ? words : `${words}, order ${order}`;
}
