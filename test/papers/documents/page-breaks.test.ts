import { describe, expect, it } from 'vitest';
import type { PaperBlock } from '../../../src/papers/documents/document.ts';
import { heading } from '../../../src/papers/documents/document.ts';
import { paperPdf } from '../../../src/papers/documents/document-pdf.ts';
import { pagesOf, poppler } from '../pdf-tools.ts';

async function pagesWith(blocks: readonly PaperBlock[]): Promise<string[][]> {
  const pages = pagesOf(
    await paperPdf({ title: 'Title', subtitle: 'Under it', foot: 'x', blocks }),
  );
  return pages.map((page) => page.split('\n').flatMap((line) => line.trim() || []));
}

function lines(count: number): PaperBlock[] {
  return Array.from({ length: count }, (_, i) => ({ kind: 'text', text: `line ${i}` }));
}

describe.skipIf(poppler.missing)(`where a sheet ends${poppler.note}`, () => {
  it('a section that goes with the next begins on the sheet on which that does', async () => {
    const head: PaperBlock = {
      kind: 'section',
      together: 'with next',
      blocks: [heading('A roll'), { kind: 'text', text: 'its facts' }],
    };
    const first: PaperBlock = { kind: 'section', together: true, blocks: lines(12) };
    // However much stands before it.
    for (let before = 24; before < 46; before++) {
      const all = [...lines(before), head, first];
      const pages = await pagesWith(all);
      const page = pages.find((one) => one.includes('A roll'))!;
      expect(page.slice(page.indexOf('A roll')), String(before)).toContain('line 11');
    }
  });

  it('the sums of a table never begin one, and a table that goes on has its head again', async () => {
    for (let before = 30; before < 46; before++) {
      const table: PaperBlock = {
        kind: 'table',
        columns: [{ head: 'What' }, { head: 'Much' }],
        rows: Array.from({ length: 8 }, (_, i) => [`row ${i}`, String(i)]),
        totals: ['All', '28'],
      };
      const pages = await pagesWith([...lines(before), table]);
      const page = pages.find((one) => one.some((line) => /^All\s+28$/.test(line)))!;
      const row = page.findIndex((line) => /^row 7\s/.test(line));
      const head = page.findIndex((line) => /^What\s+Much$/.test(line));
      expect([row > head, head >= 0], String(before)).toEqual([true, true]);
    }
  });
});
