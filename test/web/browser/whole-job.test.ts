import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { pileway } from '../../cli/pileway.ts';
import { wren } from '../../support/wren.ts';
import type { Bench } from './browser.ts';
import { chromiumHere, expectNoComplaints, layParts, openBench } from './browser.ts';

describe.skipIf(chromiumHere.missing)(`the whole job on the page${chromiumHere.note}`, () => {
  let bench: Bench;
  beforeAll(async () => {
    bench = await openBench(wren);
  }, 60_000);
  afterAll(() => bench?.close());

  it('by mouse: from a new run to the program, the same bytes as the command line', async () => {
    const window = await bench.open();
    const { page } = window;
    await page.getByRole('button', { name: 'New run' }).click();
    await page.getByLabel('What is it called?').fill('Autumn vans');
    await page.getByRole('button', { name: 'Begin' }).click();

    await page.getByRole('radio', { name: 'Driver left (LHD)' }).click();
    await page.getByRole('heading', { name: 'LHD, driver left' }).waitFor();
    await page.getByLabel('Binding').fill('black');
    await page.getByRole('link', { name: 'Next: Rolls' }).click();
    await page.getByLabel('Full width').fill('1480');
    await page.getByLabel('Length on the roll').fill('8000');
    await page.getByLabel('Dye lot').fill('L-9');
    await page.getByRole('link', { name: 'Next: Lay' }).click();
    await layParts(page);
    await page.getByText('of 8.00 m').waitFor();

    await page.getByRole('link', { name: 'Next: Cutting' }).click();
    await page.getByRole('button', { name: 'Make the files' }).click();
    await expectProven(page);
    await expectSaid(bench.root, 'autumn-vans', 'LHD');
    await page.getByRole('button', { name: 'All files of this roll' }).click();
    const program = page.getByRole('region', { name: 'Files of loop' }).getByRole('link', {
      name: 'Program',
      exact: true,
    });
    expectSameBytes(await downloaded(page, () => program.click()), bench.root, 'autumn-vans');
    await expectAsCommandLine(bench, 'autumn-vans');
    expectNoComplaints(window);
  });

  it('by keyboard alone, and it is always seen where one is', async () => {
    const window = await bench.open();
    const { page } = window;
    const keys = page.keyboard;
    await goTo(page, page.getByRole('button', { name: 'New run' }));
    await keys.press('Enter');
    await goTo(page, page.getByLabel('What is it called?'));
    await keys.type('Winter vans');
    await keys.press('Enter');

    await goTo(page, page.getByRole('radio', { name: 'Driver right (RHD)' }));
    await keys.press('ArrowLeft');
    await keys.press('Space');
    await page.getByRole('heading', { name: 'LHD, driver left' }).waitFor();
    await follow(page, 'Next: Rolls');
    await goTo(page, page.getByLabel('Full width'));
    await keys.press('Control+A');
    await keys.type('1480');
    await goTo(page, page.getByLabel('Dye lot'));
    await keys.type('L-9');
    await follow(page, 'Next: Lay');
    await goTo(page, page.getByRole('button', { name: 'Lay the parts' }));
    await keys.press('Enter');
    await page.locator('[data-test="length"]', { hasText: / m$/ }).waitFor();
    await goTo(page, page.getByRole('button', { name: 'Good enough: stop' }));
    await keys.press('Enter');
    await page.getByRole('button', { name: 'Go on searching' }).waitFor();

    // Walk to the first part, select it, push it about, and put it back.
    await goTo(page, page.getByRole('application', { name: 'Lay of loop' }));
    await keys.press('n');
    await keys.press('Enter');
    const card = page.getByRole('complementary', { name: /^Part .*\.1\.1$/ });
    await card.waitFor();
    const before = await card.textContent();
    await keys.press('ArrowRight');
    await keys.press('Escape');
    expect(await card.textContent()).toBe(before);

    await follow(page, 'Next: Cutting');
    await goTo(page, page.getByRole('button', { name: 'Make the files' }));
    await keys.press('Space');
    await expectProven(page);
    await expectSaid(bench.root, 'winter-vans', 'LHD');
    await goTo(page, page.getByRole('button', { name: 'All files of this roll' }));
    await keys.press('Enter');
    const region = page.getByRole('region', { name: 'Files of loop' });
    await goTo(page, region.getByRole('link', { name: 'Program', exact: true }));
    const bytes = await downloaded(page, () => keys.press('Enter'));
    expectSameBytes(bytes, bench.root, 'winter-vans');

    await follow(page, 'Next: Papers');
    await follow(page, 'Next: Rehearsal');
    await goTo(page, page.getByRole('slider', { name: 'Moment of the rehearsal' }));
    await keys.press('PageUp');
    await page.getByText(/^0:0[1-9]$/).waitFor();
    expectNoComplaints(window);
  });
});

/** The files are proven, and the first step is there to be read from across the room. */
async function expectProven(page: Page): Promise<void> {
  await page.getByRole('region', { name: 'Proven' }).waitFor({ timeout: 40_000 });
  const step = page.getByRole('heading', { name: 'Load loop' });
  const size = await step.evaluate((element) =>
    Number.parseFloat(getComputedStyle(element).fontSize),
  );
  expect(size).toBeGreaterThanOrEqual(32);
}

/** What was chosen on the page stands in the run file. */
async function expectSaid(root: string, run: string, hand: string): Promise<void> {
  const sheet = parse(readFileSync(join(root, `patterns/${run}.yaml`), 'utf8'));
  expect(sheet).toMatchObject({
    orders: [{ set: 'wren', hand, quantity: 1 }],
    rolls: { loop: { width: 1480, dyeLot: 'L-9' } },
  });
}

async function downloaded(page: Page, begin: () => Promise<void>): Promise<Buffer> {
  const [download] = await Promise.all([page.waitForEvent('download'), begin()]);
  expect(download.suggestedFilename()).toBe('loop.nc');
  return readFileSync(await download.path());
}

function expectSameBytes(bytes: Buffer, root: string, run: string): void {
  expect(bytes.length).toBeGreaterThan(1000);
  expect(bytes.equals(readFileSync(join(root, 'out', run, 'loop.nc')))).toBe(true);
}

/** Cuts the run once more as a command, and holds every file of both folders against each other. */
async function expectAsCommandLine({ main, root }: Bench, run: string): Promise<void> {
  const args = ['cut', `patterns/${run}.yaml`, '--out', `elsewhere/${run}`];
  expect(await pileway(main, root, args)).toMatchObject({ code: 0 });
  const [here, there] = [join(root, 'out', run), join(root, 'elsewhere', run)];
  const names = readdirSync(there).sort();
  expect(readdirSync(here).sort()).toEqual(names);
  expect(names).toContain('sheet.pdf');
  const differing = names.filter(
    (name) => !readFileSync(join(here, name)).equals(readFileSync(join(there, name))),
  );
  expect(differing).toEqual([]);
}

/** Goes on by Tab until it is there; wherever it comes by, that is seen. */
async function goTo(page: Page, wanted: Locator): Promise<void> {
  await wanted.waitFor();
  for (let i = 0; i < 120; i++) {
    if (await wanted.evaluate((element) => element === document.activeElement)) return;
    await page.keyboard.press('Tab');
    expect(await unseenFocus(page)).toBeNull();
  }
  throw new Error(`no way by Tab to ${String(wanted)}`);
}

async function follow(page: Page, name: string): Promise<void> {
  await goTo(page, page.getByRole('link', { name }));
  await page.keyboard.press('Enter');
}

/** What has the focus and does not show it, by no frame of at least 2 pixels; null: it shows. */
function unseenFocus(page: Page): Promise<string | null> {
  return page.evaluate(() => {
    const element = document.activeElement!;
    const framed = (style: CSSStyleDeclaration, kind: 'outline' | 'border'): boolean =>
      style.getPropertyValue(`${kind}-style`) === 'solid' &&
      Number.parseFloat(style.getPropertyValue(`${kind}-width`)) >= 2;
    const isSeen =
      element === document.body ||
      framed(getComputedStyle(element), 'outline') ||
      framed(getComputedStyle(element.closest('label') ?? element), 'outline') ||
      framed(getComputedStyle(element, '::after'), 'border');
    return isSeen ? null : element.outerHTML.slice(0, 200);
  });
}
