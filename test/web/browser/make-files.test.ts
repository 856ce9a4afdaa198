import { existsSync, readdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { replaced, runFile, wren } from '../../support/wren.ts';
import type { Bench } from './browser.ts';
import { chromiumHere, expectNoComplaints, openBench } from './browser.ts';
import { looksWrong } from './looks.ts';

const widths = [1024, 1440, 2560];

describe.skipIf(chromiumHere.missing)(`making files on the page${chromiumHere.note}`, () => {
  let bench: Bench;
  beforeAll(async () => {
    // A search that no machine comes to the end of.
    bench = await openBench(replaced(wren, runFile, 'effort: 2', 'effort: 1000000'));
  }, 180_000);
  afterAll(() => bench?.close());

  it('shows how far it is, stops at once, and says where nothing has changed', async () => {
    const window = await bench.open('#/run/wren-week/cutting');
    const { page } = window;
    const button = (name: string) => page.getByRole('button', { name, exact: true });
    const isFocused = (name: string) =>
      button(name).evaluate((one) => one === one.ownerDocument.activeElement);

    await button('Make the files').press('Enter');
    await page.getByText('laying loop, 1 of 3').waitFor();
    expect(await page.getByRole('progressbar').getAttribute('value')).toBe('10');
    expect(await isFocused('Stop')).toBe(true);
    for (const width of widths) {
      await page.setViewportSize({ width, height: 900 });
      expect([width, await looksWrong(page)]).toEqual([width, []]);
    }
    await button('Stop').press('Enter');
    await page.getByText('Stopped. No files were made.').waitFor();
    expect(await isFocused('Make the files')).toBe(true);
    const out = join(bench.root, 'out');
    expect(existsSync(out) ? readdirSync(out) : []).toEqual([]);

    writeFileSync(join(bench.root, runFile), String(wren[runFile]));
    await button('Make the files').press('Enter');
    await page.getByRole('region', { name: 'Proven' }).waitFor({ timeout: 60_000 });
    await button('Make the files anew').press('Enter');
    await page.getByText('Is none of them on a machine?').waitFor();
    expect(await isFocused('Yes, replace them')).toBe(true);
    await button('Keep them').press('Enter');
    expect(await isFocused('Make the files anew')).toBe(true);
    await button('Make the files anew').press('Enter');
    await button('Yes, replace them').press('Enter');
    await page.getByText('Nothing has changed: these are the files already.').waitFor();
    expect(await page.getByRole('region', { name: 'Proven' }).count()).toBe(1);
    expectNoComplaints(window);
  });
});
