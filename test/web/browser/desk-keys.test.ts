import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Locator, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { readDrawing } from '../../../src/drawing/read.ts';
import { boxOfPath } from '../../../src/geometry/paths/path.ts';
import { pileway } from '../../cli/pileway.ts';
import { oneLayer } from '../../support/customers.ts';
import { wren } from '../../support/wren.ts';
import { areaByPoints, atRest, offeredAnswer } from './answering.ts';
import type { Bench } from './browser.ts';
import { chromiumHere, expectNoComplaints, openBench, soon } from './browser.ts';

/** Areas by the corners in the drawing, worked out by hand (two trapezia): mm2. */
const areas = {
  'CAB-MAT': 1200 * 500 + ((1200 + 1040) / 2) * 120,
  'KICK-PANEL': (250 * (380 + 300)) / 2,
};

/** Keys pressed on a page, and nothing else. */
function keysOn(page: Page) {
  let count = 0;
  const press = async (key: string): Promise<void> => {
    count++;
    await page.keyboard.press(key);
  };
  /** Goes on with Tab (or back) until this has the focus; wherever it comes by, the focus is seen. */
  const goTo = async (wanted: Locator, key: 'Tab' | 'Shift+Tab' = 'Tab'): Promise<void> => {
    const handle = (await wanted.elementHandle())!;
    const isThere = (): Promise<boolean> =>
      handle.evaluate((element) => element === document.activeElement);
    for (let i = 0; i < 90 && !(await isThere()); i++) {
      await press(key);
      expect(await page.evaluate(focusWidth), await page.evaluate(focusWords)).toBeGreaterThan(1);
    }
    expect(await isThere(), `${wanted} is not come to`).toBe(true);
  };
  return {
    press,
    goTo,
    act: async (wanted: Locator, key = 'Enter') => {
      await goTo(wanted);
      await press(key);
    },
    count: () => count,
  };
}

/** How wide the ring is round what has the focus, px: an outline of it or of its label, or a frame over it. */
function focusWidth(): number {
  const own = document.activeElement;
  if (own === null || own === document.body) return 99;
  const over = getComputedStyle(own, '::after');
  return Math.max(
    over.content === 'none' ? 0 : Number.parseFloat(over.borderTopWidth),
    ...[own, own.closest('label')].map((one) =>
      one === null || getComputedStyle(one).outlineStyle === 'none'
        ? 0
        : Number.parseFloat(getComputedStyle(one).outlineWidth),
    ),
  );
}

function focusWords(): string {
  return `no focus is seen on ${document.activeElement?.outerHTML.slice(0, 200)}`;
}

describe.skipIf(chromiumHere.missing)(`the desk by keys alone${chromiumHere.note}`, () => {
  let bench: Bench;
  beforeAll(async () => {
    bench = await openBench(wren);
  }, 90_000);
  afterAll(() => bench?.close());
  const at = (piece: string): unknown =>
    (
      parse(readFileSync(join(bench.root, 'patterns/keys/set.yaml'), 'utf8')) as {
        pieces: Record<string, { at?: unknown }>;
      }
    ).pieces[piece]?.at;

  it('from the file to what is cut', async () => {
    const window = await bench.open('#/sets');
    const { page } = window;
    const { press, goTo, act, count } = keysOn(page);
    const chooser = page.waitForEvent('filechooser');
    await act(page.locator('.take-drawing button'));
    await (
      await chooser
    ).setFiles({
      name: 'keys.dxf',
      mimeType: 'application/octet-stream',
      buffer: Buffer.from(oneLayer),
    });
    await page.getByRole('button', { name: 'Begin the set' }).waitFor();
    // In the picture of the drawing N goes to a piece.
    await goTo(page.getByRole('application'));
    await press('n');
    await page.locator('[data-test="under"] strong').waitFor();
    await act(page.getByRole('button', { name: 'Begin the set' }));
    await page.getByText(/\d+ questions? left/).waitFor();
    const begun = count();

    await press('Control+Enter');
    for (let i = 0; i < 40; i++) {
      await atRest(page);
      const left = (await page.locator('.question-count').textContent())!;
      if (left.startsWith('No question left')) break;
      const card = page.getByRole('region', { name: 'Asked now' });
      const before = await card.textContent();
      // The question has the focus, or the edges that it is about.
      await soon(() =>
        page.evaluate(() => document.activeElement?.matches('.question, .edge-panel') ?? false),
      ).toBe(true);
      const answer = await offeredAnswer(page);
      await act(answer, 'Space');
      await soon(async () => {
        const now = await page.locator('.question-count').textContent();
        return now!.startsWith('No question') || (await card.textContent()) !== before;
      }).toBe(true);
    }
    await page.getByText(/^No question left/).waitFor();
    // Few enough that somebody would do it so: a Tab or two, and a press, for each question.
    expect(begun).toBeLessThanOrEqual(30);
    expect(count() - begun).toBeLessThanOrEqual(60);

    // The plan: a piece is chosen, moved and turned, and all of it taken back.
    await goTo(page.getByRole('link', { name: /^The whole set/ }), 'Shift+Tab');
    await press('Enter');
    const plan = page.getByRole('application', { name: /^Plan:/ });
    await plan.waitFor();
    await goTo(plan);
    await press('n');
    const before = at('cab-mat');
    await press('ArrowRight');
    await press('Shift+ArrowUp');
    const [x, y] = (before as [number, number] | undefined) ?? [0, 0];
    await soon(() => at('cab-mat')).toEqual([x + 10, y + 1]);
    await soon(() => plan.getAttribute('aria-label')).toContain('cab-mat');
    await press('r');
    await page.getByRole('button', { name: 'Undo' }).waitFor();
    await soon(() => page.getByRole('button', { name: 'Undo' }).getAttribute('title')).toContain(
      'turned',
    );
    for (let i = 0; i < 3; i++) await press('Control+z');
    await soon(() => at('cab-mat')).toEqual(before);
    await press('Escape');
    await soon(() => plan.getAttribute('aria-label')).toContain('none is chosen');
    await page.getByText(/^No question left/).waitFor();
    expectNoComplaints(window);
    await page.context().close();

    const { blocks } = readDrawing(join(bench.root, 'patterns/keys/keys.dxf'));
    for (const [block, area] of Object.entries(areas)) {
      const outlines = blocks
        .find(({ name }) => name === block)!
        .entities.flatMap((one) =>
          one.kind === 'path' && one.path.closed ? [areaByPoints(one.path)] : [],
        );
      expect(Math.max(...outlines), block).toBeCloseTo(area, -1);
    }
    const check = await pileway(bench.main, bench.root, ['check', 'patterns/keys']);
    expect(check.code, check.stderr).toBe(0);
    writeFileSync(
      join(bench.root, 'patterns/keys-run.yaml'),
      'title: Keys\ncutter: long-bay\neffort: 1\norders:\n  - { order: A1, set: keys, hand: RHD }\n',
    );
    const cut = await pileway(bench.main, bench.root, ['cut', 'patterns/keys-run.yaml']);
    expect(cut.code, cut.stderr).toBe(0);
    expect(cut.stdout).toContain('passed');
  });

  it('chooses single edges and things, in the lists and in the picture', async () => {
    const window = await bench.open('#/sets/keys/kick-panel');
    const { page } = window;
    const { press, goTo, act } = keysOn(page);
    const holes = () => {
      const { blocks } = readDrawing(join(bench.root, 'patterns/keys/keys.dxf'));
      const { entities } = blocks.find(({ name }) => name === 'KICK-PANEL')!;
      return entities.flatMap((one) =>
        one.layer === 'HOLE' && one.kind === 'path' ? [boxOfPath(one.path)] : [],
      );
    };
    const picture = page.getByRole('application', { name: /^kick-panel:/ });
    const entries = page.locator('.edge-entry');
    await goTo(picture);
    await press('n');
    await press('n');
    const second = entries.nth(1);
    await soon(() => second.getAttribute('aria-pressed')).toBe('true');
    await press('Escape');
    await soon(() => second.getAttribute('aria-pressed')).toBe('false');
    await act(entries.nth(0), 'Enter');
    await act(entries.nth(2), 'Shift+Enter');
    await page.getByRole('heading', { name: /^2 stretches chosen/ }).waitFor();
    await goTo(page.locator('.edge-panel .edge-kind').first());
    await press('Escape');
    await page.locator('.edge-panel').waitFor({ state: 'detached' });
    await soon(() => page.evaluate(() => document.activeElement?.className)).toContain(
      'edge-entry',
    );
    // A thing is chosen in its list, said something of above it, and moved in the picture.
    const [before] = holes();
    await act(page.locator('.thing-line', { hasText: 'hole' }), 'Enter');
    await soon(() => page.evaluate(() => document.activeElement?.className)).toContain(
      'thing-panel',
    );
    await goTo(picture, 'Shift+Tab');
    await press('ArrowRight');
    await soon(() => holes()[0]!.minX - before!.minX).toBeCloseTo(10, 6);
    await press('Control+z');
    await soon(() => holes()[0]!.minX).toBeCloseTo(before!.minX, 6);
    expectNoComplaints(window);
    await page.context().close();
  });
});
