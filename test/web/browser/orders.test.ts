import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { colouredWren, drawingFile, runFile, setFile, wren } from '../../support/wren.ts';
import type { Bench } from './browser.ts';
import { chromiumHere, expectNoComplaints, openBench, soon } from './browser.ts';
import { looksWrong } from './looks.ts';

const orders = '#/run/wren-week/orders';
const csv =
  'order;set;hand;carpet.colour;due\r\nT1;wren;RHD;claret;2026-12-04\r\nT2;wren;LHD;navy;\r\n';

describe.skipIf(chromiumHere.missing)(`many orders on the page${chromiumHere.note}`, () => {
  let bench: Bench;
  beforeAll(async () => {
    bench = await openBench({
      ...colouredWren,
      'patterns/tit/set.yaml': String(colouredWren[setFile])
        .replace('Wren van, cab', 'Tit')
        .replace('drawing: wren.dxf', 'drawing: tit.dxf')
        .replace(/^options:\n(?:  .*\n)+/m, ''),
      'patterns/tit/tit.dxf': wren[drawingFile]!,
      'patterns/table.csv': csv,
      'patterns/table.yaml': 'title: In a table\ncutter: long-bay\norders: table.csv # by Ann\n',
    });
  }, 60_000);
  beforeEach(() => writeFileSync(join(bench.root, runFile), colouredWren[runFile]!));
  afterAll(() => bench?.close());

  const said = (): { orders: object[]; rolls: Record<string, object[]> } =>
    parse(readFileSync(join(bench.root, runFile), 'utf8'));
  const saved = (): Promise<object> => Promise.resolve(said().orders[0]!);

  it('chooses material, colour, edge, options, pieces and words of an order by pointing', async () => {
    const window = await bench.open(orders);
    const { page } = window;
    const form = page.getByRole('group', { name: 'Order C1' });
    await form.getByLabel('Carpet made of').selectOption('velour for tests');
    // Claret is kept in velour, too, so the colour has stayed.
    await soon(saved).toMatchObject({ carpet: { material: 'velour', colour: 'claret' } });
    await radio(form, 'Colour of the carpet', 'stone').check();
    await form.getByLabel('Edges finished with').selectOption('leather strip');
    await form.getByLabel('Binding').selectOption('tan');
    await form.getByLabel('Thread').fill('grey');
    await radio(form, 'Second lock', 'Yes').check();
    await radio(form, 'Wheelbase', 'long').check();
    await form.getByText('Pieces: all 5').click();
    await radio(form, 'All, or a group', 'Only feet').check();
    await form.getByText('Pieces: 2 of 5').waitFor();
    await form.getByRole('checkbox', { name: 'cover' }).check();
    await form.getByText(/^Customer, day, notes: /).click();
    await form.getByLabel('Due on').fill('2026-12-24');
    // What is typed stays while an earlier change is saved and all is drawn anew.
    await form.getByLabel('Note for the bench').pressSequentially('Mind the ', { delay: 20 });
    await soon(saved).toMatchObject({ due: '2026-12-24' });
    await form.getByLabel('Note for the bench').pressSequentially('corner.', { delay: 50 });
    await form.getByLabel('Note for the bench').blur();
    await soon(saved).toEqual({
      order: 'C1',
      set: 'wren',
      hand: 'RHD',
      carpet: { material: 'velour', colour: 'stone' },
      edge: { finish: 'leather', colour: 'tan' },
      thread: 'grey',
      options: { lock: true, size: 'long' },
      // One name says it: cab is floor and dash.
      without: ['cab'],
      due: '2026-12-24',
      customer: 'Hill',
      benchNote: 'Mind the corner.',
    });
    await page.getByText('A set has 4 carpet parts, 1 pad, 1 board.').waitFor();
    expectNoComplaints(window);
  });

  it('shows only what the set has, and says beside the plan what an order lacks', async () => {
    const { page } = await bench.open(orders);
    await page.getByRole('group', { name: 'Order C1' }).waitFor();
    expect(await page.getByText('With underlay').count()).toBe(0);
    expect(await page.getByLabel('Boards made of').count()).toBe(0);
    await page.getByRole('button', { name: 'Add an order' }).click();
    const form = page.getByRole('group', { name: 'Order V2' });
    const told = page.getByText(/Order "V2" does not say the colour of its carpet/);
    await told.first().waitFor();
    await radio(form, 'Colour of the carpet', 'navy').check();
    await told.first().waitFor({ state: 'detached' });
  });

  it('says what another set does not have, and gives the whole order back', async () => {
    const { page } = await bench.open(orders);
    await page.getByRole('button', { name: /^V1, RHD/ }).click();
    const form = page.getByRole('group', { name: 'Order V1' });
    const v1 = (): Promise<object> => Promise.resolve(said().orders[4]!);
    await radio(form, 'Wheelbase', 'long').check();
    await soon(v1).toMatchObject({ options: { size: 'long' } });
    const before = await v1();
    await form.getByLabel('Set', { exact: true }).selectOption('Tit');
    await form.getByText('Dropped, as Tit has no such: option size long.').waitFor();
    await soon(v1).toEqual({
      order: 'V1',
      set: 'tit',
      hand: 'RHD',
      carpet: { material: 'velour', colour: 'stone' },
      thread: 'grey',
    });
    await form.getByRole('button', { name: 'Put the whole order back as it was' }).click();
    await soon(v1).toEqual(before);
    expect(await form.getByText(/^Dropped/).count()).toBe(0);
    // It is told only until another order is opened.
    await form.getByLabel('Set', { exact: true }).selectOption('Tit');
    await form.getByText(/^Dropped/).waitFor();
    await page.getByRole('button', { name: /^C1, RHD/ }).click();
    await page.getByRole('button', { name: /^V1, RHD/ }).click();
    await form.getByLabel('Thread').waitFor();
    expect(await form.getByText(/^Dropped/).count()).toBe(0);
  });

  it('shows a run that cannot be read among the runs, with what is wrong folded away', async () => {
    const file = join(bench.root, 'patterns/torn.yaml');
    writeFileSync(file, 'title: Torn\ncutter: long-bay\norders: torn.csv\n');
    writeFileSync(join(bench.root, 'patterns/torn.csv'), 'order;set;hand\nT1;wren;left\n');
    const { page } = await bench.open('');
    const card = page.locator('.run-card', { hasText: 'torn' });
    const why = card.getByText(/"hand" says "left"/);
    await card.getByText('It cannot be read: 1 finding').waitFor();
    expect(await why.isVisible()).toBe(false);
    await card.getByText('It cannot be read: 1 finding').click();
    await why.waitFor();
    expect(await page.getByText(/"hand" says/).count()).toBe(1);
    rmSync(file);
  });

  it('is done by keyboard alone', async () => {
    const { page } = await bench.open(orders);
    const keys = page.keyboard;
    const form = page.getByRole('group', { name: 'Order C1' });
    await radio(form, 'Colour of the carpet', 'claret').focus();
    await keys.press('ArrowRight');
    await keys.press('Space');
    await soon(saved).toMatchObject({ carpet: { colour: 'navy' } });
    await form.locator('summary', { hasText: 'Pieces' }).focus();
    await keys.press('Enter');
    await form.getByRole('checkbox', { name: 'floor' }).focus();
    await keys.press('Space');
    await soon(saved).toMatchObject({ without: ['floor'] });
    // What is chosen keeps the focus, so that the keyboard goes on from there.
    expect(
      await form
        .getByRole('checkbox', { name: 'floor' })
        .evaluate((box) => box === document.activeElement),
    ).toBe(true);
  });

  it('is grouped and looked through by cloth, quality and day', async () => {
    const { page } = await bench.open(orders);
    await page.getByLabel('Group by').selectOption('Cloth');
    const claret = page.getByRole('region', { name: 'Cloth: carpet for tests, claret' });
    await claret.getByRole('heading', { name: 'carpet for tests, claret 3 orders' }).waitFor();
    await page
      .getByRole('region', { name: 'Cloth: velour for tests, stone' })
      .getByText('V1, RHD')
      .waitFor();
    await page.getByLabel('Group by').selectOption('Not grouped');
    const show = page.getByLabel('Show');
    expect(await show.locator('option').allTextContents()).toEqual([
      'All (5)',
      'Cloth: carpet for tests, claret (3)',
      'Cloth: carpet for tests, navy (1)',
      'Cloth: velour for tests, stone (1)',
      'Quality: carpet for tests (4)',
      'Quality: velour for tests (1)',
      'Due: 2026-12-04 (2)',
      'Due: 2026-12-11 (1)',
      'Due: no day (2)',
    ]);
    await show.selectOption('Due: 2026-12-04 (2)');
    const lines = page.getByRole('button', { name: /^[CNV]\d, [RL]HD/ });
    // The order that is open stays in sight, whatever is looked for.
    await soon(() => lines.allTextContents()).toEqual([
      expect.stringContaining('C2, LHD'),
      expect.stringContaining('C3, LHD'),
    ]);
  });

  it('proposes what to cut first, and changes nothing', async () => {
    const { page } = await bench.open(orders);
    const cloth = page.getByRole('region', { name: 'carpet for tests, claret' });
    await cloth.getByText('3 orders share the roll').waitFor();
    expect(await cloth.getByRole('button').allTextContents()).toEqual(['C3', 'C2', 'C1']);
    await cloth.getByRole('button', { name: 'C2' }).click();
    await page.getByRole('group', { name: 'Order C2' }).waitFor();
    expect(readFileSync(join(bench.root, runFile), 'utf8')).toBe(colouredWren[runFile]);
  });

  it('asks for rolls by cloth, and offers those of the cloth alone', async () => {
    const { page } = await bench.open('#/run/wren-week/rolls');
    await radio(page, 'Material', 'carpet for tests, navy').check();
    const stock = page.getByRole('region', { name: 'Rolls of the shop' });
    await soon(() => stock.getByRole('listitem').allTextContents()).toEqual([
      expect.stringContaining('R1, 3.10 m'),
      expect.stringContaining('R2, 1.20 m'),
    ]);
    await page.getByRole('button', { name: 'Add another roll' }).click();
    await page.getByLabel('Name').fill('N2');
    await page.getByLabel('Dye lot').fill('8');
    await page.getByLabel('Dye lot').blur();
    await soon(() => Promise.resolve(said().rolls['loop'])).toEqual([
      { colour: 'claret', length: 9000, dyeLot: '7' },
      { colour: 'navy', length: 4000 },
      { colour: 'navy', name: 'N2', dyeLot: '8' },
    ]);
    await radio(page, 'Material', 'velour for tests, stone').check();
    await page.getByText('None of this material in stone is remembered.').waitFor();
    await page.getByLabel('Length on the roll').fill('5000');
    await page.getByLabel('Length on the roll').blur();
    await soon(() => Promise.resolve(said().rolls['velour'])).toEqual({
      colour: 'stone',
      length: 5000,
    });
  });

  it('lets a roll go that no order wants any more', async () => {
    const { page } = await bench.open(orders);
    await page.getByRole('button', { name: /^N1, RHD/ }).click();
    const form = page.getByRole('group', { name: 'Order N1' });
    await radio(form, 'Colour of the carpet', 'claret').check();
    await page.getByText(/given in navy, and no order wants it/).waitFor();
    await page.getByRole('link', { name: 'Next: Rolls' }).click();
    await radio(page, 'Material', 'carpet for tests, navy').check();
    await page.getByRole('button', { name: 'Leave this roll out' }).click();
    await soon(() => Promise.resolve(said().rolls['loop'])).toEqual({
      colour: 'claret',
      length: 9000,
      dyeLot: '7',
    });
    await page.getByText(/no order wants it/).waitFor({ state: 'detached' });
  });

  it('names cloths in the lay as files do, each with its colour', async () => {
    const { page } = await bench.open('#/run/wren-week/lay');
    const rack = page.getByRole('navigation', { name: 'Rolls' });
    await soon(() => rack.locator('.racked-name').allTextContents()).toEqual([
      'loop-claret',
      'loop-navy',
      'velour-stone',
      'board',
      'rubber',
    ]);
    const stone = rack.getByRole('button', { name: /velour-stone/ });
    await stone.click();
    await page.getByRole('application', { name: 'Lay of velour-stone' }).waitFor();
    expect(await stone.getAttribute('aria-current')).toBe('true');
    const paint = await stone
      .locator('.colour-swatch')
      .evaluate((swatch) => getComputedStyle(swatch).backgroundColor);
    expect(paint).toBe('rgb(138, 133, 128)');
  });

  it('leaves orders that are kept in a CSV alone, and saves the rolls beside them', async () => {
    const { page } = await bench.open('#/run/table/orders');
    await page.getByText('These orders are kept in table.csv.').waitFor();
    const form = page.getByRole('group', { name: 'Order T1' });
    for (const control of await form.locator('input, select, textarea').all()) {
      expect(await control.isDisabled()).toBe(true);
    }
    expect(await page.getByRole('button', { name: 'Add an order' }).count()).toBe(0);
    expect(await page.getByRole('button', { name: /^Remove/ }).count()).toBe(0);
    writeFileSync(join(bench.root, 'patterns/table.csv'), `${csv}T3;wren;RHD;sand;\r\n`);
    await page.getByRole('button', { name: 'Read table.csv again' }).click();
    await page.getByRole('button', { name: /^T3, RHD/ }).waitFor();
    await page.getByRole('link', { name: 'Next: Rolls' }).click();
    await page.getByLabel('Dye lot').fill('L-9');
    await page.getByLabel('Dye lot').blur();
    const text = (): Promise<string> =>
      Promise.resolve(readFileSync(join(bench.root, 'patterns/table.yaml'), 'utf8'));
    await soon(text).toContain('dyeLot: L-9');
    expect(await text()).toContain('orders: table.csv # by Ann\n');
  });

  it('breaks no rule of WCAG 2.2 AA, light or dark, has room at 1024 pixels and large targets', async () => {
    const found: string[] = [];
    const { page } = await bench.open('', { viewport: { width: 1024, height: 768 } });
    for (const [address, show] of views) {
      await page.goto('about:blank');
      await page.goto(bench.url() + address);
      await show(page);
      found.push(...(await looksWrong(page)).map((words) => `${address}: ${words}`));
    }
    expect(found).toEqual([]);
  });
});

function radio(within: Page | Locator, group: string, name: string): Locator {
  return within.getByRole('group', { name: group }).getByRole('radio', { name });
}

async function openAll(page: Page): Promise<void> {
  await page
    .getByText(/share the roll|One order alone/)
    .first()
    .waitFor();
  for (const more of await page.locator('details.order-more > summary').all()) await more.click();
}

const views: readonly [string, (page: Page) => Promise<void>][] = [
  [orders, openAll],
  [
    orders,
    async (page) => {
      await page.getByLabel('Group by').selectOption('Due');
      await openAll(page);
    },
  ],
  ['#/run/table/orders', openAll],
  ['#/run/wren-week/rolls', (page) => page.getByText('Type a defect').waitFor()],
  ['#/run/wren-week/lay', (page) => page.locator('[data-test="length"]').waitFor()],
];
