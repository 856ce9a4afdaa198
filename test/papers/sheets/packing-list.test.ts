import { beforeAll, describe, expect, it } from 'vitest';
import { paperHtml } from '../../../src/papers/documents/document-html.ts';
import { paperPdf } from '../../../src/papers/documents/document-pdf.ts';
import type { OrderFacts } from '../../../src/papers/facts/run-facts.ts';
import { packingList } from '../../../src/papers/sheets/packing-list.ts';
import { replaced, runFile, wren } from '../../support/wren.ts';
import { readMarkup, tableRows, textOf } from '../markup.ts';
import { pagesOf, poppler } from '../pdf-tools.ts';
import type { WrittenRun } from '../wren-papers.ts';
import { writtenRun } from '../wren-papers.ts';

let run: WrittenRun;

beforeAll(async () => {
  const more = `customer: Moor, customerNote: "Two boxes.", due: 2026-12-04, binding: black`;
  run = await writtenRun(replaced(wren, runFile, 'binding: black', more));
});

/** The rows of the things on a packing list: below the head. */
function thingsOn(html: string): string[][] {
  return tableRows(html).slice(1);
}

describe('the packing list', () => {
  it('has every part of its order exactly once, by the name on its label', () => {
    for (const { order, quantity } of run.record.orders) {
      const things = thingsOn(run.text(`packing-${order}.html`));
      const named = things.flatMap(([, count, , made]) => {
        expect(count).toBe(String(quantity));
        return made!.split('; ').map((one) => one.replace(/ \(.*/, ''));
      });
      const own = run.record.parts.filter((part) => part.order === order && part.set === 1);
      expect(named.toSorted()).toEqual(own.map(({ name }) => name).toSorted());
      expect(quantity * named.length).toBe(
        run.record.parts.filter((part) => part.order === order).length,
      );
    }
  });

  it('counts as one thing what is sewn together or fixed to its carpet, and has a box for each set', () => {
    // The floor is sewn to the dash; of RHD only the right mat has a pad, the rest its board.
    expect(thingsOn(run.text('packing-A1.html'))).toEqual([
      ['☐ ☐', '2', 'Floor, 2 sewn together', 'floor; dash (Dash)'],
      ['☐ ☐', '2', 'Mat, left', 'mat-left'],
      ['☐ ☐', '2', 'Mat, right', 'mat-right; mat-pad-right (heel pad)'],
      ['☐ ☐', '2', 'Rest, right', 'rest-right; rest-board-right (board)'],
      ['☐ ☐', '2', 'Cover, left', 'cover-left'],
    ]);
    const text = textOf(readMarkup(run.text('packing-A1.html')));
    expect(text).toContain('10 things, made of 16 parts. 2 of each, one for each set.');
  });

  it('says for whom, by when and what the customer is to know, and leaves the spare tape to be written', () => {
    const text = textOf(readMarkup(run.text('packing-A1.html')));
    for (const words of ['CustomerMoor', 'Due2026-12-04', 'Two boxes.', 'Spare tape sent____']) {
      expect(text).toContain(words);
    }
    expect(text).toContain(run.facts.fingerprint);
    expect(text).toMatch(/Tape cut for it\d+\.\d\d m of tape, black/);
  });

  it('names how a part is fixed and what goes loose, and what is loose comes last', () => {
    const one = run.facts.orders[0]!;
    const bench = new Map(one.bench);
    const fix = (name: string, fixed: string): void => {
      const facts = bench.get(name)!;
      bench.set(name, {
        ...facts,
        pads: facts.pads.map((pad) => ({ ...pad, fixed })),
        under: facts.under.map((under) => ({ ...under, fixed })),
      });
    };
    fix('mat-right', 'loose');
    fix('rest-right', 'glued');
    const rows = thingsOn(paperHtml(packingList({ ...one, bench }, run.facts)));
    expect(rows.map(([, , thing, made]) => [thing, made]).slice(2)).toEqual([
      ['Mat, right', 'mat-right'],
      ['Rest, right', 'rest-right; rest-board-right (board, glued)'],
      ['Cover, left', 'cover-left'],
      ['Mat heel pad, right, loose', 'mat-pad-right'],
    ]);
  });

  it.skipIf(poppler.missing)(
    `is one page, and repeats its header where it takes more${poppler.note}`,
    async () => {
      const one = run.facts.orders[0]!;
      expect(pagesOf(await paperPdf(packingList(one, run.facts)))).toHaveLength(1);
      const many = manyParts(one, 60);
      const pages = pagesOf(await paperPdf(packingList(many, run.facts)));
      expect(pages.length).toBeGreaterThan(1);
      for (const page of pages) {
        expect(page.split('Packing list: order A1')).toHaveLength(2);
        expect(page).toContain('Made of');
      }
      const all = pages.join(' ');
      for (const { name } of many.parts) expect(all.split(` ${name}\n`)).toHaveLength(2);
    },
  );
});

/** An order of so many loose covers. */
function manyParts(one: OrderFacts, count: number): OrderFacts {
  const cover = one.parts.find(({ name }) => name === 'cover-left')!;
  const names = Array.from({ length: count }, (_, i) => `cover-${i + 1}`);
  const facts = one.bench.get('cover-left')!;
  return {
    ...one,
    order: { ...one.order, quantity: 7 },
    parts: names.map((name) => ({ ...cover, name })),
    bench: new Map(names.map((name) => [name, { ...facts, part: name }])),
  };
}
