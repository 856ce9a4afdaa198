import { readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { pileway } from '../../cli/pileway.ts';
import { fieldOf } from '../../papers/label-fields.ts';
import { codeReader, codesIn, pageCount } from '../../papers/pdf-tools.ts';
import { replaced, runFile, wren } from '../../support/wren.ts';
import type { Bench, Window } from './browser.ts';
import { chromiumHere, expectNoComplaints, openBench, soon } from './browser.ts';
import { looksWrong } from './looks.ts';

/** A week of its own that differs by a set: three parts and what goes with them. */
const otherRun = String(replaced(wren, runFile, 'quantity: 2', 'quantity: 1')[runFile]);
const outside = chromiumHere.missing ? chromiumHere : codeReader;

// One window for all: each test goes on where the one before has left it.
describe.skipIf(outside.missing)(`papers and comparisons on the page${outside.note}`, () => {
  let bench: Bench;
  let window: Window;
  beforeAll(async () => {
    bench = await openBench({ ...wren, 'patterns/other-week.yaml': otherRun }, { showsPdf: true });
    for (const run of [runFile, 'patterns/other-week.yaml']) {
      const cut = await pileway(bench.main, bench.root, ['cut', run, '--effort', '1']);
      expect(cut).toMatchObject({ code: 0 });
    }
    window = await bench.open('#/out/wren-week');
  }, 180_000);
  afterAll(() => bench?.close());

  it('counts the pages of what is chosen, and prints them as one PDF', async () => {
    const { page } = window;
    const papers = page.getByRole('region', { name: 'Papers' });
    const tick = (name: string) => papers.getByRole('checkbox', { name, exact: true });
    await papers.getByText('pages in all').waitFor({ timeout: 30_000 });
    expect(await summed(page)).toBe(pagesOnDisk(bench, /\.pdf$/));
    expect(await printed(page)).toBe(await summed(page));

    for (const reader of ['Operator', 'Packer', 'Customer', 'Office']) await tick(reader).uncheck();
    expect(await summed(page)).toBe(pagesOnDisk(bench, /^sewing-/));
    await tick('A1').press('Space');
    expect(await summed(page)).toBe(pagesOnDisk(bench, /^sewing-A2/));
    expect(await printed(page)).toBe(await summed(page));
    await page.getByRole('button', { name: 'Next page' }).click();
    await page.getByText(/Sewing sheet, order A2, page 2 of/).waitFor();
    const shown = (await page.locator('iframe').getAttribute('src'))!;
    expect(pageCount(await bytesOf(page, shown.split('#')[0]!))).toBe(1);
    await tick('Bench').uncheck();
    await papers.getByText('Nothing is chosen.').waitFor();
    expect(await papers.getByRole('link', { name: /in one$/ }).count()).toBe(0);
  });

  it('prints the label of one part alone, on the first free place of a sheet', async () => {
    const { page } = window;
    const papers = page.getByRole('region', { name: 'Papers' });
    const tick = (name: string) => papers.getByRole('checkbox', { name, exact: true });
    await tick('Operator').check();
    await tick('A1').check();
    await tick('Sheet for the operator').uncheck();
    await papers.getByText(/: choose$/).click();
    await papers.getByRole('button', { name: /^Untick \d/ }).click();
    await papers.getByText('Nothing is chosen.').waitFor();
    await papers.getByLabel('Find a part').fill('floor.1.a2');
    await tick('floor.1.A2').check();
    await papers.getByRole('radio', { name: '4', exact: true }).press('Space');
    await papers.getByText('1 page in all').waitFor();
    const pdf = await bytesOf(page, await linkOf(page));
    const { labelStock } = JSON.parse(
      readFileSync(join(bench.root, 'out/wren-week/run.json'), 'utf8'),
    );
    const places = [0, 3, 4].map((place) => ({ page: 1, ...fieldOf(place, labelStock) }));
    expect(codesIn(pdf, places)).toEqual(['', 'floor.1.A2', '']);
    expect(await page.getByText('used', { exact: true }).count()).toBe(3);
    expect(await wrongAtAllWidths(page)).toEqual([]);
    expectNoComplaints(window);
  });

  it('compares two runs: what matters first, both over each other, then line by line', async () => {
    const { page } = window;
    await page.goto(`${bench.url()}#/`);
    for (const name of ['wren-week', 'other-week']) {
      const card = page.getByRole('listitem').filter({ hasText: `${name},` });
      await card.getByText('More').click();
      await card.getByLabel('Compare').check();
    }
    await page.getByRole('link', { name: 'Compare wren-week with other-week' }).click();
    const gone = goneParts(bench);
    await page.getByText(`${gone} parts are gone`).waitFor({ timeout: 30_000 });

    // A part that is gone is drawn in the run that has it, and not in the other.
    const drawn = page.locator('.overlay-row path.gone');
    await page.getByText('only in wren-week').waitFor();
    expect(await drawn.count()).toBeGreaterThan(0);
    await page.getByRole('radio', { name: 'other-week' }).press('Space');
    await soon(() => drawn.count()).toBe(0);
    expect(await page.getByText('only in wren-week').count()).toBe(0);
    await page.getByRole('radio', { name: 'Both' }).press('Space');
    await soon(() => drawn.count()).toBeGreaterThan(0);

    // What was not compared is said.
    const notes = page.getByRole('region', { name: 'As before, or not compared' });
    expect(await notes.getByRole('listitem').count()).toBeGreaterThan(0);
    const all = page.getByText(/^All \d+ differences$/);
    const first = page.getByRole('region', { name: 'Differences, the gravest first' });
    expect(await first.getByRole('row').count()).toBeLessThanOrEqual(1 + 12 + 7);
    await all.click();
    const lines = page.getByRole('region', { name: 'All differences' });
    await lines.getByRole('row').filter({ hasText: 'floor.2.A1' }).first().waitFor();
    expect(await wrongAtAllWidths(page)).toEqual([]);
    expectNoComplaints(window);
  });
});

/** How many pages the page says there are in all. */
async function summed(page: Page): Promise<number> {
  return Number.parseInt((await page.locator('.papers-sum').textContent())!, 10);
}

async function linkOf(page: Page): Promise<string> {
  return (await page.getByRole('link', { name: /in one$/ }).getAttribute('href'))!;
}

/** How many pages the PDF has that is given out. */
async function printed(page: Page): Promise<number> {
  return pageCount(await bytesOf(page, await linkOf(page)));
}

async function bytesOf(page: Page, address: string): Promise<Uint8Array> {
  const text = await page.evaluate(async (to) => {
    const answer = await fetch(to);
    const bytes = new Uint8Array(await answer.arrayBuffer());
    return [...bytes].map((byte) => String.fromCharCode(byte)).join('');
  }, address);
  return Buffer.from(text, 'latin1');
}

/** The pages of the papers of a run whose names are like this, as they lie on the disk. */
function pagesOnDisk({ root }: Bench, names: RegExp): number {
  const folder = join(root, 'out/wren-week');
  return readdirSync(folder)
    .filter((name) => name.endsWith('.pdf') && names.test(name))
    .reduce((sum, name) => sum + pageCount(readFileSync(join(folder, name))), 0);
}

/** How many parts only the first run has. */
function goneParts({ root }: Bench): number {
  const [one, other] = ['wren-week', 'other-week'].map((run) => {
    const record = JSON.parse(readFileSync(join(root, 'out', run, 'run.json'), 'utf8'));
    return record.parts.map(({ label }: { label: string }) => label) as string[];
  });
  return one!.filter((label) => !other!.includes(label)).length;
}

async function wrongAtAllWidths(page: Page): Promise<string[]> {
  const told: string[] = [];
  for (const width of [1024, 1440, 2560]) {
    await page.setViewportSize({ width, height: 900 });
    told.push(...(await looksWrong(page)).map((words) => `${width}: ${words}`));
  }
  return told;
}
