import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { CDPSession, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { readDrawing } from '../../../src/drawing/read.ts';
import { pathLength } from '../../../src/geometry/paths/path.ts';
import { pileway } from '../../cli/pileway.ts';
import { oneLayer } from '../../support/customers.ts';
import { drawingFile, setFile, wren } from '../../support/wren.ts';
import { answerAll } from './answering.ts';
import type { Bench } from './browser.ts';
import { chromiumHere, expectNoComplaints, openBench, soon } from './browser.ts';
import type { Spot } from './picture.ts';

/** A tablet that lies on the bench. */
const tablet = { viewport: { width: 1180, height: 820 }, hasTouch: true, isMobile: true };

/** What a finger must hit is at least so high, px. */
const leastHeight = 40;

/** Fingers that go from spot to spot, each along its own way; all ways have as many spots. */
async function fingers(touch: CDPSession, ...ways: readonly (readonly Spot[])[]): Promise<void> {
  const at = (step: number) => ways.map((way, id) => ({ ...way[step]!, id }));
  await touch.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: at(0) });
  for (let step = 1; step < ways[0]!.length; step++)
    await touch.send('Input.dispatchTouchEvent', { type: 'touchMove', touchPoints: at(step) });
  await touch.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
}

function straight(from: Spot, to: Spot, steps = 8): Spot[] {
  return Array.from({ length: steps + 1 }, (_, i) => ({
    x: from.x + ((to.x - from.x) * i) / steps,
    y: from.y + ((to.y - from.y) * i) / steps,
  }));
}

/** Spots of the page along stretches of the outline in the picture, each a little within its ends. */
async function along(page: Page, edges: readonly number[]): Promise<Spot[]> {
  await page.locator('.canvas [data-edge]').first().waitFor({ state: 'attached' });
  return page.evaluate(
    (list) =>
      list.flatMap((edge) => {
        const path = document.querySelector<SVGPathElement>(
          `.canvas [data-edge="${edge}"] path, .canvas path[data-edge="${edge}"]`,
        )!;
        const matrix = path.getScreenCTM()!;
        const length = path.getTotalLength();
        return [0.15, 0.5, 0.85].map((share) => {
          const { x, y } = path.getPointAtLength(length * share).matrixTransform(matrix);
          return { x, y };
        });
      }),
    edges,
  );
}

/** How long a stretch is in the picture, mm. */
function shownLength(page: Page, edge: number): Promise<number> {
  return page
    .locator(`.canvas [data-edge="${edge}"] path, .canvas path[data-edge="${edge}"]`)
    .first()
    .evaluate((path: SVGPathElement) => path.getTotalLength());
}

/** How long the lines are that say which edge of the cover is bound, mm. */
function boundLength(file: string): number {
  const { blocks } = readDrawing(file, { setUnits: 'mm' });
  return blocks
    .find(({ name }) => name === 'COVER')!
    .entities.flatMap((one) => (one.kind === 'path' && one.layer === 'BOUND' ? [one.path] : []))
    .reduce((sum, path) => sum + pathLength(path), 0);
}

/** What is lower than a finger needs it; the radio of a choice is hit by its label. */
function tooLow(page: Page): Promise<string[]> {
  return page.evaluate((least) => {
    const all = document.querySelectorAll<HTMLElement>(
      'button, a, summary, select, label.tick, .choices label, input:not([type="radio"], [type="checkbox"])',
    );
    return [...all]
      .filter((one) => one.closest('.unseen, p') === null && one.offsetHeight > 0)
      .filter((one) => one.getBoundingClientRect().height < least)
      .map((one) => one.outerHTML.slice(0, 120));
  }, leastHeight);
}

describe.skipIf(chromiumHere.missing)(`the desk by fingers alone${chromiumHere.note}`, () => {
  let bench: Bench;
  beforeAll(async () => {
    bench = await openBench(wren);
  }, 90_000);
  afterAll(() => bench?.close());
  const place = (): readonly number[] => {
    const { pieces } = parse(readFileSync(join(bench.root, setFile), 'utf8')) as {
      pieces: Record<string, { at?: [number, number] }>;
    };
    return pieces['cover']?.at ?? [0, 0];
  };
  const open = async (address: string) => {
    const window = await bench.open(address, tablet);
    const touch = await window.page.context().newCDPSession(window.page);
    expect(await window.page.evaluate(() => matchMedia('(pointer: coarse)').matches)).toBe(true);
    return { window, page: window.page, touch };
  };

  it('takes a drawing to a set that checks clean', async () => {
    const { window, page } = await open('#/sets');
    await page.locator('input[type="file"]').setInputFiles({
      name: 'touched.dxf',
      mimeType: 'application/octet-stream',
      buffer: Buffer.from(oneLayer),
    });
    await page.getByRole('button', { name: 'Begin the set' }).tap();
    await page.getByText(/\d+ questions? left/).waitFor();
    expect(await tooLow(page)).toEqual([]);
    expect(await answerAll(page, (what) => what.tap({ force: true }))).toBeLessThanOrEqual(22);
    expectNoComplaints(window);
    await page.context().close();
    const check = await pileway(bench.main, bench.root, ['check', 'patterns/touched']);
    expect(check.code, check.stderr).toBe(0);
  });

  it('chooses an edge by a tap and several by a stroke along them, and says what they are', async () => {
    const { window, page, touch } = await open('#/sets/wren/cover');
    const entries = page.locator('.edge-entry');
    const chosen = () =>
      entries.evaluateAll((all) =>
        all.flatMap((one, i) => (one.getAttribute('aria-pressed') === 'true' ? [i] : [])),
      );
    await entries.first().waitFor();
    const [, middle] = await along(page, [1]);
    await page.touchscreen.tap(middle!.x, middle!.y);
    await soon(chosen).toEqual([1]);
    expect(await tooLow(page)).toEqual([]);
    await page.getByRole('button', { name: 'Several' }).tap();
    const [, third] = await along(page, [3]);
    await page.touchscreen.tap(third!.x, third!.y);
    await soon(chosen).toEqual([1, 3]);
    await page.getByRole('button', { name: 'Several' }).tap();
    // A stroke goes on at a corner, as a finger does.
    const spots = await along(page, [0, 1, 2]);
    await fingers(
      touch,
      spots.slice(1).flatMap((to, i) => straight(spots[i]!, to, 4)),
    );
    await soon(chosen).toEqual([0, 1, 2]);
    // A press right after a stroke would only stop what the browser takes for scrolling; no hand is so fast.
    await page.waitForTimeout(500);
    // So long they are to the browser, which measures lines by itself.
    const swept = (await Promise.all([0, 1, 2].map((edge) => shownLength(page, edge)))).reduce(
      (sum, length) => sum + length,
    );
    await page.locator('.edge-panel').getByRole('button', { name: 'Bound' }).tap();
    await soon(() => boundLength(join(bench.root, drawingFile))).toBeCloseTo(swept, 1);
    expectNoComplaints(window);
    await page.context().close();
  });

  it('zooms by two fingers and by buttons, and chooses and moves nothing by that', async () => {
    const { window, page, touch } = await open('#/sets/wren/cover');
    const body = page.locator('.canvas path.body');
    await body.waitFor();
    const width = async (): Promise<number> => (await body.boundingBox())!.width;
    const before = readFileSync(join(bench.root, setFile), 'utf8');
    const box = (await page.locator('.canvas').boundingBox())!;
    const middle = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
    const aside = (by: number): Spot => ({ x: middle.x + by, y: middle.y });
    const whole = await width();
    await fingers(touch, straight(aside(-60), aside(-120)), straight(aside(60), aside(120)));
    // Twice as far apart is twice as large.
    await soon(async () => (await width()) / whole).toBeCloseTo(2, 1);
    expect(await page.locator('.edge-panel, .thing-panel').count()).toBe(0);
    await page.getByRole('button', { name: 'All of it' }).tap();
    await soon(async () => (await width()) / whole).toBeCloseTo(1, 2);
    await page.getByRole('button', { name: 'Larger' }).tap();
    await soon(async () => (await width()) / whole).toBeGreaterThan(1.2);
    expect(readFileSync(join(bench.root, setFile), 'utf8')).toBe(before);
    expectNoComplaints(window);
    await page.context().close();
  });

  it('drags a piece to its place on the plan; a second finger gives it up', async () => {
    const { window, page, touch } = await open('#/sets/wren');
    const piece = page.locator('[data-piece="cover"]');
    await piece.waitFor();
    expect(await tooLow(page)).toEqual([]);
    const box = (await piece.boundingBox())!;
    const from = { x: box.x + box.width / 4, y: box.y + box.height / 2 };
    const to = { x: from.x - 40, y: from.y - 60 };
    const before = place();
    // Two fingers zoom, also where one of them came down on a piece.
    await fingers(
      touch,
      straight(from, { x: from.x - 30, y: from.y }),
      straight({ x: from.x + 80, y: from.y }, { x: from.x + 110, y: from.y }),
    );
    await page.getByRole('button', { name: 'All of it' }).tap();
    expect(place()).toEqual(before);
    await fingers(touch, straight(from, to));
    await soon(() => place()[0]! - before[0]!).toBeLessThan(0);
    expect(place()[1]! - before[1]!).toBeGreaterThan(0);
    expect(await page.getByLabel('The piece to be placed').inputValue()).toBe('cover');
    expect(await tooLow(page)).toEqual([]);
    expectNoComplaints(window);
    await page.context().close();
  });
});
