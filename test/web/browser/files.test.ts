import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { pileway } from '../../cli/pileway.ts';
import { replaced, runFile, wren } from '../../support/wren.ts';
import type { Bench } from './browser.ts';
import { chromiumHere, expectNoComplaints, openBench, soon } from './browser.ts';

/** A week of its own that differs by an order. */
const otherRun = String(replaced(wren, runFile, 'quantity: 2', 'quantity: 1')[runFile]);

describe.skipIf(chromiumHere.missing)(`files on the page${chromiumHere.note}`, () => {
  let bench: Bench;
  beforeAll(async () => {
    bench = await openBench({ ...wren, 'patterns/other-week.yaml': otherRun });
    for (const run of [runFile, 'patterns/other-week.yaml']) {
      const cut = await pileway(bench.main, bench.root, ['cut', run, '--effort', '1']);
      expect(cut).toMatchObject({ code: 0 });
    }
  }, 180_000);
  afterAll(() => bench?.close());

  it('rehearses the program: played, moved to by the slider, and part by part', async () => {
    const window = await bench.open('#/run/wren-week/rehearsal');
    const { page } = window;
    const program = readFileSync(join(bench.root, 'out/wren-week/loop.nc'), 'utf8').split('\n');
    await page.getByRole('button', { name: 'Play' }).click();
    await soon(() => secondsShown(page)).toBeGreaterThanOrEqual(2);
    await page.getByRole('button', { name: 'Pause' }).click();

    const slider = page.getByRole('slider', { name: 'Moment of the rehearsal' });
    const total = Number(await slider.getAttribute('max'));
    const { x, y, width, height } = (await slider.boundingBox())!;
    await page.mouse.click(x + 0.5 * width, y + height / 2);
    await soon(() => secondsShown(page)).toBeGreaterThan(0.45 * total);
    expect(await secondsShown(page)).toBeLessThan(0.55 * total);
    await slider.press('End');
    await page.getByText('At the end: knife up').waitFor();
    expect(await secondsShown(page)).toBe(Math.floor(total));

    // Chosen out of turn: the page jumps to where the program first goes down on the part.
    for (const label of ['mat-left.2.A1', 'floor.1.A2']) {
      await page.getByLabel('Jump to a part').selectOption(label);
      const said = program.findIndex((line) => line.startsWith(`(${label} `));
      const down = program.findIndex((line, i) => i > said && / Z-/.test(line));
      await soon(() => lineShown(page)).toBe(down + 1);
    }
    await expectAsProgram(page, program);
    expectNoComplaints(window);
  });

  it('says of files that are older than the run not to cut them, till they are made anew', async () => {
    const file = join(bench.root, runFile);
    const before = readFileSync(file, 'utf8');
    const window = await bench.open('#/run/wren-week/cutting');
    const { page } = window;
    await page.getByRole('region', { name: 'Proven' }).waitFor();
    await page.getByRole('button', { name: 'All files of this roll' }).click();
    const program = page.getByRole('link', { name: 'Program', exact: true }).first();
    const address = (await program.getAttribute('href'))!;
    expect(await statusOf(page, address)).toBe(200);

    // An order is changed where orders are changed.
    await page.goto(`${bench.url()}#/run/wren-week/orders`);
    await page.getByRole('button', { name: /A2/ }).first().click();
    await page.getByLabel('Sets').fill('2');
    await page.getByLabel('Sets').press('Tab');
    await page.getByText('Saved as patterns/wren-week.yaml').waitFor();
    const words = 'Do not cut: made before order A2 was changed';
    for (const [name, view, ofPapers] of [
      ['run', '#/run/wren-week/cutting', '#/run/wren-week/papers'],
      ['folder', '#/out/wren-week', '#/out/wren-week'],
    ] as const) {
      await page.goto(`${bench.url()}${view}`);
      await page.getByRole('region', { name: words }).waitFor();
      expect(await page.locator('a[href*=".nc"], a[href*=".dxf"], a[download]').count()).toBe(0);
      await page.goto(`${bench.url()}${ofPapers}`);
      const papers = page.getByRole('region', { name: 'Papers' });
      await soon(async () => [name, await papers.getByText(words).count()]).toEqual([name, 1]);
      expect(await page.locator('a[href*=".nc"], a[href*=".dxf"], a[download]').count()).toBe(0);
    }
    expect(await statusOf(page, address)).toBe(422);
    await page.goto(`${bench.url()}#/run/wren-week/rehearsal`);
    await page.getByRole('region', { name: words }).waitFor();
    expect(await page.getByRole('button', { name: 'Play' }).count()).toBe(0);

    await page.goto(`${bench.url()}#/run/wren-week/cutting`);
    await page.getByRole('button', { name: 'Make the files anew' }).click();
    await page.getByRole('button', { name: 'Yes, replace them' }).click();
    await page.getByRole('region', { name: 'Proven' }).waitFor({ timeout: 60_000 });
    expect(await statusOf(page, address)).toBe(200);
    writeFileSync(file, before);
    const cut = await pileway(bench.main, bench.root, ['cut', runFile, '--effort', '1', '--force']);
    expect(cut).toMatchObject({ code: 0 });
    expectNoComplaints(window, 422);
  });

  it('gives no program where a file on the disk is not what was proven', async () => {
    const window = await bench.open('#/out/other-week');
    const { page } = window;
    await page.getByRole('button', { name: 'All files of this roll' }).click();
    const link = page
      .getByRole('region', { name: 'Files of loop' })
      .getByRole('link', { name: 'Program', exact: true });
    const address = (await link.getAttribute('href'))!;
    expect(await statusOf(page, address)).toBe(200);
    const file = join(bench.root, 'out/other-week/loop.nc');
    const text = readFileSync(file, 'utf8');
    const changed = text.replace(/^G1 X(\d+)/m, (_, x) => `G1 X${Number(x) + 3}`);
    expect(changed).not.toBe(text);
    writeFileSync(file, changed);

    await page.reload();
    await page.getByRole('region', { name: 'Do not cut' }).waitFor();
    expect(await page.locator('a[href*=".nc"], a[href*=".dxf"], a[href*="zip"]').count()).toBe(0);
    expect(await page.getByText('No drawing and no program is given.').count()).toBe(1);
    expect(await page.locator('.main-button').count()).toBe(0);
    expect(await statusOf(page, await freshKey(page, address))).toBe(422);
    await page.goto(`${bench.url()}#/run/other-week/cutting`);
    await page.getByRole('region', { name: 'Do not cut' }).waitFor();
    expect(await page.locator('a[href*=".nc"]').count()).toBe(0);
    expectNoComplaints(window, 422);
  });
});

async function secondsShown(page: Page): Promise<number> {
  const words = (await page.locator('.rehearsal-time strong').textContent())!;
  return words.split(':').reduce((sum, part) => 60 * sum + Number(part), 0);
}

async function lineShown(page: Page): Promise<number> {
  return Number(await fact(page, 'Line of the program'));
}

async function fact(page: Page, name: string): Promise<string> {
  const row = page.locator('.rehearsal-fact', { has: page.getByText(name, { exact: true }) });
  return (await row.locator('dd').textContent())!;
}

/** Steps on till the knife was down and up, and holds what is said of it against the program: below 0 it cuts. */
async function expectAsProgram(page: Page, program: readonly string[]): Promise<void> {
  const seen = new Set<string>();
  for (let steps = 0; seen.size < 2 && steps < 200; steps++) {
    const line = await lineShown(page);
    const text = program[line - 1]!;
    const height = program.slice(0, line).findLast((one) => / Z-?\d/.test(one))!;
    const isDown = Number(/ Z(-?[\d.]+)/.exec(height)![1]) < 0;
    if (/ [XY]/.test(text) && !/ Z/.test(text)) {
      const words = isDown ? 'Knife down: cutting' : 'Knife up: travelling';
      expect(`line ${line}: ${await fact(page, 'Knife')}`).toBe(`line ${line}: ${words}`);
      seen.add(words);
    }
    await page.getByRole('button', { name: 'Step on' }).click();
  }
  expect(seen.size).toBe(2);
}

function statusOf(page: Page, address: string): Promise<number> {
  return page.evaluate(async (to) => (await fetch(to)).status, address);
}

/** The address with the key of the page as it is now. */
async function freshKey(page: Page, address: string): Promise<string> {
  const key = await page.locator('meta[name="pileway-key"]').getAttribute('content');
  return address.replace(/key=.*/, `key=${key}`);
}
