/// <reference lib="dom" />
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import type { RunContent } from '../../../src/run/run-file.ts';
import { replaced, runFile, wren } from '../../support/wren.ts';
import type { LayTable } from '../../../src/web/api/lay.ts';
import type { Bench } from './browser.ts';
import {
  asked,
  beginSearch,
  chromiumHere,
  expectNoComplaints,
  openBench,
  soon,
  stopSearch,
} from './browser.ts';
import { looksWrong } from './looks.ts';
import { pictureCalled } from './picture.ts';

/** A title and a roll that are called as long as people call them: nothing is pushed out of the window by them. */
const longNamed = replaced(
  replaced(
    wren,
    runFile,
    /title: .*/,
    'title: Wren vans of the first week of May, three sets and a spare',
  ),
  runFile,
  /loop: \{ length/,
  'loop: { name: upper-shelf-new-roll-of-may, length',
);

/** The share of the window that the picture has. */
async function shareOfPicture(page: Page): Promise<number> {
  const { width, height } = (await page.locator('.roll-stage').boundingBox())!;
  const window = page.viewportSize()!;
  return (width * height) / (window.width * window.height);
}

describe.skipIf(chromiumHere.missing)(`the lay as the screen${chromiumHere.note}`, () => {
  let bench: Bench;
  let page: Page;
  beforeAll(async () => {
    bench = await openBench(longNamed);
    const window = await bench.open('#/run/wren-week/lay');
    page = window.page;
    await beginSearch(page);
    await stopSearch(page);
    return () => expectNoComplaints(window);
  }, 90_000);
  afterAll(() => bench?.close());
  const rollIn = (material: string): Exclude<RunContent['rolls'][string], readonly unknown[]> =>
    parse(readFileSync(join(bench.root, runFile), 'utf8')).rolls[material];
  const rack = () => page.getByRole('navigation', { name: 'Rolls' });

  it('finds a part by what is typed, on whichever roll it lies, and shows it', async () => {
    await page.getByLabel('Find a part').fill('rest A2');
    await page.getByLabel('Find a part').press('Enter');
    await page.getByText(/^Found rest-left.*, order A2/).waitFor({ state: 'attached' });
    await soon(() => rack().locator('[aria-current]').textContent()).not.toBeNull();
    await page.getByRole('complementary', { name: /^Part rest-left/ }).waitFor();
    await page.getByLabel('Find a part').fill('wheel');
    await page.getByLabel('Find a part').press('Enter');
    await page.getByText('No part is called wheel.').waitFor({ state: 'attached' });
  });

  it('pins a part, lets it go and turns it by buttons, and takes that back', async () => {
    await rack()
      .getByRole('button', { name: /^board/ })
      .click();
    const picture = pictureCalled(page, 'Lay of board');
    await picture.press('n');
    await picture.press('Enter');
    await page.getByRole('button', { name: 'Pin', exact: true }).click();
    await page.getByText('1 pinned').waitFor();
    const [pin] = rollIn('board').pins;
    await page.getByRole('button', { name: 'Unpin' }).click();
    await page.getByText('1 pinned').waitFor({ state: 'detached' });
    expect(rollIn('board').laid).toContainEqual(pin);

    const turn = page.getByRole('button', { name: 'Turn' });
    await turn.click();
    await page.getByText('1 pinned').waitFor();
    const [turned] = rollIn('board').pins;
    expect(turned!.part).toBe(pin!.part);
    expect(turned!.rotation).not.toBe(pin!.rotation);
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.getByText('1 pinned').waitFor({ state: 'detached' });
    expect(rollIn('board').laid).toContainEqual(pin);
  });

  it('says in the rack what waits while one cloth after the other is searched', async () => {
    await page.getByLabel('Search for').selectOption('30 s');
    await page.getByRole('button', { name: 'Go on searching' }).click();
    await rack().locator('.racked.busy').waitFor();
    expect(await rack().locator('.racked.waits').count()).toBeGreaterThan(0);
    await page.getByText('being tried, and may overlap').waitFor();
    await page.getByRole('button', { name: 'Good enough: stop' }).click();
    await page.getByRole('button', { name: 'Go on searching' }).waitFor();
    expect(await rack().locator('.racked.done').count()).toBe(3);
  });

  it('begins no other search where Stop is pressed just as one has ended', async () => {
    await beginSearch(page);
    await page.evaluate(() => {
      const press = new MutationObserver(() => {
        const all = [...document.querySelectorAll('button')];
        const button = all.find(({ textContent }) => textContent === 'Go on searching');
        if (button === undefined) return;
        press.disconnect();
        button.click();
      });
      press.observe(document.body, { subtree: true, childList: true, characterData: true });
    });
    await stopSearch(page);
    await page.getByRole('button', { name: 'Go on searching', disabled: false }).waitFor();
    expect((await asked<LayTable>(page, '/api/run/wren-week/table')).search).toBeNull();
  });

  it('shows in the strip what of the lay is in the picture, and goes where it is pressed', async () => {
    await rack().getByRole('button', { name: /^loop/ }).click();
    const frame = page.locator('.roll-strip span').first();
    const strip = (await page.locator('.roll-strip').boundingBox())!;
    const whole = (await frame.boundingBox())!;
    expect(whole.width).toBeGreaterThan(0.9 * strip.width);
    for (let i = 0; i < 5; i++) await page.getByRole('button', { name: 'Closer' }).click();
    await soon(async () => (await frame.boundingBox())!.width).toBeLessThan(0.7 * strip.width);
    const before = (await frame.boundingBox())!.x;
    await page.mouse.click(strip.x + 0.95 * strip.width, strip.y + strip.height / 2);
    await soon(async () => (await frame.boundingBox())!.x).toBeGreaterThan(before + 20);
    await page.getByRole('button', { name: 'Fit: show the whole lay' }).click();
  });

  it('leaves the picture two thirds of a small window, and most of a large one, light and dark', async () => {
    await page.getByRole('button', { name: 'Details' }).click();
    const wrong: Record<string, string[]> = {};
    for (const [width, height, least] of [
      [1024, 768, 2 / 3],
      [1440, 900, 0.64],
      [2560, 1440, 0.7],
    ] as const) {
      await page.setViewportSize({ width, height });
      await soon(() => shareOfPicture(page)).toBeGreaterThan(least);
      const { scrollHeight, clientHeight } = await page.evaluate(() => {
        const { scrollHeight: all, clientHeight: seen } = document.documentElement;
        return { scrollHeight: all, clientHeight: seen };
      });
      expect(scrollHeight).toBeLessThanOrEqual(clientHeight);
      wrong[width] = width === 1440 ? [] : await looksWrong(page);
    }
    expect(wrong).toEqual({ 1024: [], 1440: [], 2560: [] });
  });
});
