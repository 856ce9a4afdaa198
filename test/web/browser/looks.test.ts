import { cpSync, existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { pileway } from '../../cli/pileway.ts';
import { customerDrawing } from '../../support/customer-drawing.ts';
import { wren } from '../../support/wren.ts';
import type { Bench, Window } from './browser.ts';
import { beginSearch, chromiumHere, expectNoComplaints, openBench, stopSearch } from './browser.ts';
import { looksWrong } from './looks.ts';

const project = join(import.meta.dirname, '../../..');
const isShot = process.env['PILEWAY_SCREENS'] === '1';

/** A view of the page, and how somebody comes to it. */
interface View {
  readonly name: string;
  readonly address: (run: string, set: string) => string;
  readonly show: (page: Page) => Promise<void>;
}

function view(name: string, address: View['address'], show: View['show']): View {
  return { name, address, show };
}

const views: readonly View[] = [
  view(
    'runs',
    () => '',
    (page) => page.getByText('First time here?').waitFor(),
  ),
  view(
    'new-run',
    () => '',
    (page) => page.getByRole('button', { name: 'New run' }).click(),
  ),
  view(
    'orders',
    (run) => `#/run/${run}/orders`,
    async (page) => {
      await page.getByRole('button', { name: /LHD/ }).first().click();
      await page.getByRole('radio', { name: 'Slide' }).click();
      await page.getByText(/changed over from RHD/).click();
    },
  ),
  view(
    'roll',
    (run) => `#/run/${run}/rolls`,
    async (page) => {
      await page.getByText('Type a defect').click();
    },
  ),
  view(
    'lay',
    (run) => `#/run/${run}/lay`,
    async (page) => {
      const picture = page.getByRole('application', { name: /^Lay of / });
      await picture.press('n');
      await picture.press('Enter');
      const details = page.getByRole('button', { name: 'Details', expanded: false });
      if (await details.isVisible()) await details.click();
      await page.getByRole('complementary', { name: /^Part / }).waitFor();
    },
  ),
  view(
    'cutting',
    (run) => `#/run/${run}/cutting`,
    async (page) => {
      await page.getByRole('region', { name: 'Proven' }).waitFor();
    },
  ),
  view(
    'rehearsal',
    (run) => `#/run/${run}/rehearsal`,
    async (page) => {
      await page.getByRole('slider', { name: 'Moment of the rehearsal' }).press('PageUp');
    },
  ),
  view(
    'recut',
    (run) => `#/out/${run}`,
    async (page) => {
      await page.getByRole('button', { name: 'Something went wrong' }).click();
      await page.getByRole('application', { name: /as it was cut$/ }).waitFor();
    },
  ),
  view(
    'compare',
    (run) => `#/compare/${run}/other`,
    async (page) => {
      await page.locator('.compare-sentence').waitFor({ timeout: 60_000 });
    },
  ),
  view(
    'sets',
    () => '#/sets',
    async (page) => {
      await page.getByRole('button', { name: 'Choose a drawing' }).waitFor();
    },
  ),
  view(
    'drawing',
    () => '#/sets',
    async (page) => {
      await page.getByLabel('Drawing (DXF)').setInputFiles({
        name: 'tourer.dxf',
        mimeType: 'application/octet-stream',
        buffer: Buffer.from(customerDrawing()),
      });
      await page.getByRole('radio', { name: /1,780 mm/ }).check();
      await page.getByRole('application', { name: /3 pieces, 2,400 by/ }).waitFor();
    },
  ),
  view(
    'set',
    (_, set) => `#/sets/${set}`,
    async (page) => {
      await page.getByText(/^No question left/).waitFor();
    },
  ),
  view(
    'piece',
    (_, set) => `#/sets/${set}/${set === 'wren' ? 'floor' : 'cab-floor'}`,
    async (page) => {
      await page
        .getByRole('button', { name: /^cutout/ })
        .first()
        .click();
    },
  ),
];

/** Views whose own tests hold them against these rules, at several widths; here they only have their pictures taken. */
const elsewhere = new Set(['runs', 'lay', 'cutting', 'files', 'papers', 'recut', 'compare']);

describe.skipIf(chromiumHere.missing)(`looks of the page${chromiumHere.note}`, () => {
  let bench: Bench;
  const cut = async (...args: string[]): Promise<void> => {
    const { code, stderr } = await pileway(bench.main, bench.root, ['cut', ...args]);
    expect(code, stderr).toBe(0);
  };
  const lay = async (run: string): Promise<void> => {
    const { page } = await bench.open(`#/run/${run}/lay`);
    await beginSearch(page);
    await stopSearch(page);
    await page.context().close();
  };
  beforeAll(async () => {
    bench = await openBench(wren);
    await cut('patterns/wren-week.yaml', '--effort', '1');
    cpSync(join(bench.root, 'patterns/wren-week.yaml'), join(bench.root, 'patterns/other.yaml'));
    if (!isShot) return;
    await cut('patterns/other.yaml', '--effort', '1', '--cutter', 'small-table');
    await lay('wren-week');
  }, 90_000);
  afterAll(() => bench?.close());

  it('breaks no rule of WCAG 2.2 AA on any view, light or dark, has room at 1024 pixels and large targets', async () => {
    const found: string[] = [];
    const window = await bench.open('', { viewport: { width: 1024, height: 768 } });
    const { page } = window;
    for (const one of views.filter(({ name }) => !elsewhere.has(name))) {
      await opened(bench, window, one, 'wren-week', 'wren');
      found.push(...(await looksWrong(page)).map((words) => `${one.name}: ${words}`));
    }
    expect(found).toEqual([]);
    expectNoComplaints(window);
  });

  it('tells who is here first where to begin, once', async () => {
    const { page } = await bench.open();
    await page.getByText('First time here?').waitFor();
    await page.getByRole('button', { name: 'Understood' }).click();
    await page.reload();
    await page.locator('.run-card').first().waitFor();
    expect(await page.getByText('First time here?').count()).toBe(0);
  });

  it('names a run that is new in words where it was given no title', async () => {
    const { page } = await bench.open();
    await page.getByRole('button', { name: 'New run' }).click();
    await page.getByRole('button', { name: 'Begin' }).click();
    const told = page.getByText('A run has a title.');
    await told.waitFor();
    expect(await told.count()).toBe(1);
  });

  // For people to look at: it says nothing by itself, so where none are wanted there is no test.
  if (isShot)
    it('has its picture taken', async () => {
      bringFenlark(bench.root);
      for (const run of ['fenlark-week', 'other']) {
        await cut(`patterns/${run}.yaml`, '--effort', '2', '--force');
      }
      await lay('fenlark-week');
      const shots = [
        [1024, 768, 'light'],
        [1440, 900, 'light'],
        [2560, 1440, 'light'],
        [1440, 900, 'dark'],
      ] as const;
      const folder = join(project, 'screens');
      mkdirSync(folder, { recursive: true });
      for (const [width, height, colorScheme] of shots) {
        const window = await bench.open('', { viewport: { width, height }, colorScheme });
        for (const one of views) {
          await opened(bench, window, one, 'fenlark-week', 'fenlark');
          await settled(window.page);
          const path = join(folder, `${one.name}-${width}x${height}-${colorScheme}.png`);
          await window.page.screenshot({ path });
          expect(existsSync(path)).toBe(true);
        }
        await window.page.context().close();
      }
    }, 300_000);
});

async function opened(
  bench: Bench,
  { page }: Window,
  { address, show }: View,
  run: string,
  set: string,
): Promise<void> {
  // Another document each time: nothing of the view before is left.
  await page.goto('about:blank');
  await page.goto(bench.url() + address(run, set));
  await show(page);
}

/** Nothing has been loading for a while, and the picture is painted. */
async function settled(page: Page): Promise<void> {
  await page.waitForFunction(() => !/ …/.test(document.body.innerText));
  await page.evaluate(
    () => new Promise((resolve) => setTimeout(() => requestAnimationFrame(resolve), 400)),
  );
}

/** The demo run and all that is shared, beside the test's own; the other run has another hand in it. */
function bringFenlark(root: string): void {
  for (const name of ['patterns/fenlark', 'shared']) {
    cpSync(join(project, name), join(root, name), { recursive: true });
  }
  const week = readFileSync(join(project, 'patterns/fenlark-week.yaml'), 'utf8');
  writeFileSync(join(root, 'patterns/fenlark-week.yaml'), week);
  writeFileSync(join(root, 'patterns/other.yaml'), week.replace('hand: LHD', 'hand: RHD'));
}
