import { join } from 'node:path';
import { expect, it } from 'vitest';
import { paperPdf } from '../../src/papers/documents/document-pdf.ts';
import { runSheet } from '../../src/papers/sheets/sheet.ts';
import { rollTitle } from '../../src/papers/facts/run-facts.ts';
import { madeRun } from '../support/made-run.ts';
import { pagesOf, poppler } from './pdf-tools.ts';

const root = join(import.meta.dirname, '../..');

it.skipIf(poppler.missing)(
  `the demo’s run sheet has at most ten pages, each with more than headings${poppler.note}`,
  async () => {
    const { facts } = await madeRun(
      {
        runFile: join(root, 'patterns/fenlark-week.yaml'),
        sharedFolder: join(root, 'shared'),
        limit: { rounds: 1 },
      },
      'fenlark-week',
    );
    const pages = pagesOf(await paperPdf(runSheet(facts)));
    // A number that was asked for: an operator carries no book to the machine.
    expect(pages.length).toBeLessThanOrEqual(10);
    for (const page of pages) {
      const lines = page.split('\n').map((line) => line.trim());
      const said = lines.filter((line) => line !== '' && !line.startsWith('run fenlark-week,'));
      expect(said.length).toBeGreaterThan(5);
      expect(facts.materials.map(rollTitle)).not.toContain(said.at(-1));
    }
    // Nothing is told twice.
    const all = pages.join(' ').replaceAll(/\s+/g, ' ');
    for (const { message } of facts.findings) {
      expect(all.split(message.replaceAll(/\s+/g, ' '))).toHaveLength(2);
    }
  },
);
