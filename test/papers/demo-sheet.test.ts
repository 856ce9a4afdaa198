import { join } from 'node:path';
import { beforeAll, expect, it } from 'vitest';
import { paperPdf } from '../../src/papers/documents/document-pdf.ts';
import { sewingSheet } from '../../src/papers/sheets/sewing-sheet.ts';
import { packedThings } from '../../src/papers/facts/packing.ts';
import { packingList } from '../../src/papers/sheets/packing-list.ts';
import { runSheet } from '../../src/papers/sheets/sheet.ts';
import type { RunFacts } from '../../src/papers/facts/run-facts.ts';
import { rollTitle } from '../../src/papers/facts/run-facts.ts';
import { madeRun } from '../support/made-run.ts';
import { pagesOf, poppler } from './pdf-tools.ts';

const root = join(import.meta.dirname, '../..');

let facts: RunFacts;

beforeAll(async () => {
  const request = {
    runFile: join(root, 'patterns/fenlark-week.yaml'),
    sharedFolder: join(root, 'shared'),
    limit: { rounds: 1 },
  };
  ({ facts } = await madeRun(request, 'fenlark-week'));
});

it.skipIf(poppler.missing)(
  `the demo’s sewing sheets have eight or nine parts a page${poppler.note}`,
  async () => {
    for (const one of facts.orders) {
      const pages = pagesOf(await paperPdf(sewingSheet(one, facts)));
      const carpets = one.parts.filter(({ kind }) => kind === 'piece').length;
      // A page for what is of the whole order, one for its companions, and eight parts on each other.
      expect(pages.length).toBeLessThanOrEqual(2 + Math.ceil(carpets / 8));
      for (const page of pages) expect(page.split('\n').length).toBeGreaterThan(12);
    }
  },
);

it.skipIf(poppler.missing)(
  `the demo’s run sheet has at most ten pages, each with more than headings${poppler.note}`,
  async () => {
    const pages = pagesOf(await paperPdf(runSheet(facts)));
    // A number that was asked for: an operator carries no book to the machine.
    expect(pages.length).toBeLessThanOrEqual(10);
    for (const page of pages) {
      const lines = page.split('\n').map((line) => line.trim());
      const said = lines.filter((line) => line !== '' && !line.startsWith('run fenlark-week,'));
      expect(said.length).toBeGreaterThan(5);
      expect(facts.materials.map(rollTitle)).not.toContain(said.at(-1));
      // A roll is not begun on a page on which none of it is cut.
      const begun = lines.filter((line) => facts.materials.map(rollTitle).includes(line)).length;
      const bites = lines.filter((line) => /\bBite 1: as loaded$|\bOne bite$/.test(line)).length;
      expect(begun).toBe(bites);
    }
    // Nothing is told twice.
    const all = pages.join(' ').replaceAll(/\s+/g, ' ');
    for (const { message } of facts.findings) {
      expect(all.split(message.replaceAll(/\s+/g, ' '))).toHaveLength(2);
    }
  },
);

it.skipIf(poppler.missing)(
  `the demo’s 24 carpet parts leave as 19 things, two underlays by themselves, on one page${poppler.note}`,
  async () => {
    const one = facts.orders.find(({ order }) => order.order === '1041')!;
    const things = packedThings(one);
    // Four round the seats are sewn together, and two wheel boxes of two: 24 less 3 less 2.
    expect(one.parts.filter(({ kind }) => kind === 'piece')).toHaveLength(24);
    expect(things.filter(({ carpets }) => carpets > 0)).toHaveLength(19);
    expect(things.filter(({ carpets }) => carpets === 0)).toHaveLength(2);
    for (const order of facts.orders) {
      expect(pagesOf(await paperPdf(packingList(order, facts)))).toHaveLength(1);
    }
  },
);
