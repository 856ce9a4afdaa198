import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { pileway } from '../../cli/pileway.ts';
import { replaced, runFile, wren } from '../../support/wren.ts';
import type { Bench } from './browser.ts';
import { chromiumHere, expectNoComplaints, openBench, soon } from './browser.ts';
import { looksWrong } from './looks.ts';

const spring = replaced(wren, runFile, /title: .*/, 'title: Spring')[runFile]!;
const files = {
  ...wren,
  'patterns/spring.yaml': String(spring).replaceAll(
    /order: A(\d)/g,
    'order: S$1, due: 2026-05-0$1',
  ),
};

describe.skipIf(chromiumHere.missing)(`runs on the page${chromiumHere.note}`, () => {
  let bench: Bench;
  let page: Page;
  let check: () => void;
  beforeAll(async () => {
    bench = await openBench(files);
    const { code, stderr } = await pileway(bench.main, bench.root, ['cut', runFile]);
    expect(code, stderr).toBe(0);
    const window = await bench.open();
    page = window.page;
    check = () => expectNoComplaints(window);
  }, 90_000);
  afterAll(() => bench?.close());

  const stage = (name: string) => page.getByRole('region', { name: new RegExp(`^${name}`) });
  const ordersOf = (run: string): string[] =>
    parse(readFileSync(join(bench.root, `patterns/${run}.yaml`), 'utf8')).orders.map(
      ({ order }: { order: string }) => order,
    );

  it('stand by what is to be done with them, with their lay in little and what is open', async () => {
    const cut = stage('To cut').locator('.run-card');
    await cut.getByText('Files made, not cut').waitFor();
    await soon(() => cut.locator('polygon').count()).toBe(18);
    await stage('To prepare').getByText('Not laid').waitFor();
    await stage('To prepare')
      .getByText(/due .*2026/)
      .waitFor();
    await page.getByLabel('Find runs').fill('s2 lhd');
    await soon(() => page.locator('.run-card').count()).toBe(1);
    await page.getByLabel('Find runs').fill('');
  });

  it('give orders that are not cut to a new run, and say so where files are older then', async () => {
    await page.getByRole('button', { name: 'Gather uncut orders' }).click();
    const dialog = page.getByRole('dialog');
    await dialog.getByLabel('What is it called?').fill('Friday');
    await dialog.getByLabel('What is it called?').press('Tab');
    await dialog.getByLabel(/^S1 RHD.*from Spring/).check();
    await dialog.getByLabel(/^A2 LHD/).check();
    await dialog.getByRole('button', { name: 'Cut 2 orders together' }).click();
    await page.getByRole('heading', { name: 'Friday' }).waitFor();
    expect(ordersOf('friday')).toEqual(['S1', 'A2']);
    expect(ordersOf('spring')).toEqual(['S2']);
    expect(ordersOf('wren-week')).toEqual(['A1']);
    await page.getByRole('link', { name: 'Runs', exact: true }).click();
    await stage('To cut')
      .getByText(/^Do not cut: made before order A2/)
      .waitFor();
  });

  it('are put away and taken back, with their files where they were', async () => {
    const card = page.locator('.run-card', { hasText: 'Spring' });
    await card.getByText('More').click();
    await card.getByRole('button', { name: 'Put it away' }).click();
    await card.getByText('1 order of it is not cut.').waitFor();
    await card.getByRole('button', { name: 'Yes, put it away' }).click();
    const away = page.getByText('Put away (1)');
    await away.waitFor();
    expect(ordersOf('spring')).toEqual(['S2']);
    expect(await card.isVisible()).toBe(false);
    await away.click();
    await card.getByText('More').click();
    await card.getByRole('button', { name: 'Take it back' }).click();
    await away.waitFor({ state: 'detached' });
    await stage('To prepare').getByRole('link', { name: 'Spring' }).waitFor();
  });

  it('break no rule of WCAG 2.2 AA, light or dark, small or large', async () => {
    for (const width of [1024, 2560]) {
      await page.setViewportSize({ width, height: 800 });
      expect(await looksWrong(page)).toEqual([]);
    }
    check();
  });
});
