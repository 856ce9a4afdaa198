import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import type { RunContent } from '../../../src/run/run-file.ts';
import { replaced, runFile, wren } from '../../support/wren.ts';
import type { Bench, Window } from './browser.ts';
import type { LayTable } from '../../../src/web/api/lay.ts';
import {
  asked,
  beginSearch,
  chromiumHere,
  expectNoComplaints,
  figure,
  layParts,
  openBench,
  soon,
  stopSearch,
  timeLeft,
} from './browser.ts';
import type { Spot } from './picture.ts';
import {
  aiming,
  dragged,
  laysOfRun,
  middleOf,
  oneBand,
  partsOver,
  pictureCalled,
  rectangle,
} from './picture.ts';

/** Runs of a test's own, alike but for their name. */
const names = ['marked', 'typed', 'moved', 'stopped', 'shared', 'left'];
const oneMaterial = replaced(wren, runFile, /heelPads: both/, 'heelPads: none, boards: false');
const runs = Object.fromEntries(
  names.map((name) => [`patterns/${name}.yaml`, String(oneMaterial[runFile])]),
);

describe.skipIf(chromiumHere.missing)(`roll and lay on the page${chromiumHere.note}`, () => {
  let bench: Bench;
  beforeAll(async () => {
    bench = await openBench({ ...wren, ...runs });
  }, 60_000);
  afterAll(() => bench?.close());

  const sheetOf = (run: string): RunContent =>
    parse(readFileSync(join(bench.root, `patterns/${run}.yaml`), 'utf8')) as RunContent;
  const rollIn = (run: string): Exclude<RunContent['rolls'][string], readonly unknown[]> =>
    sheetOf(run).rolls['loop'] as never;

  it('keeps a defect marked on the picture, and lays nothing over it', async () => {
    const window = await bench.open('#/run/marked/lay');
    const { page } = window;
    await layParts(page);
    const before = await laysOfRun(page, 'marked');
    // In the middle of the first cloth that is laid, where without it parts would lie.
    const corners = rectangle(400, 500, 900, 900);
    expect(partsOver(before, 'loop', corners)).not.toEqual([]);

    await step(page, 'Rolls');
    const aim = await aiming(page, 'Roll of carpet for tests with its defects');
    const tools = page.getByRole('group', { name: 'Mark a defect on the picture' });
    const draw = async (shape: string, from: Spot, to: Spot): Promise<void> => {
      await tools.getByRole('button', { name: shape }).click();
      await dragged(page, aim(from), aim(to));
    };
    const defects = page.getByRole('list', { name: 'Defects of this roll' }).getByRole('listitem');
    await draw('Box', { x: 400, y: 500 }, { x: 900, y: 900 });
    await draw('Ring', { x: 2000, y: 500 }, { x: 2100, y: 500 });
    await draw('Line', { x: 3000, y: 200 }, { x: 3300, y: 600 });
    await soon(() => defects.count()).toBe(3);
    await saved(page);
    const [kept, ring, line] = rollIn('marked').defects;
    // 200 mm across, and 500 mm long with its ends; a pixel is some mm here.
    expect(ring!.length).toBe(16);
    expect(Math.max(...ring!.map(([x]) => x)) - Math.min(...ring!.map(([x]) => x))).toBeGreaterThan(
      180,
    );
    expect(line!.length).toBe(4);
    expect(Math.hypot(line![1]![0] - line![0]![0], line![1]![1] - line![0]![1])).toBeGreaterThan(
      480,
    );
    // A pixel is some mm here.
    for (const [i, corner] of corners.entries()) {
      expect(Math.abs(kept![i]![0] - corner[0])).toBeLessThan(12);
      expect(Math.abs(kept![i]![1] - corner[1])).toBeLessThan(12);
    }

    await step(page, 'Lay');
    await page.getByText('What was laid no longer fits').waitFor();
    await layParts(page);
    const after = await laysOfRun(page, 'marked');
    expect(partsOver(after, 'loop', kept as [number, number][])).toEqual([]);
    expect(after.lays[0]!.placements).toHaveLength(before.lays[0]!.placements.length);
    expectNoComplaints(window);
  });

  it('takes a defect that is typed, and remembers a roll for the next visit', async () => {
    const window = await bench.open('#/run/typed/rolls');
    const { page } = window;
    await page.getByText('Type a defect').click();
    await page.getByLabel('From the start').fill('1200');
    await page.getByLabel('From the edge').fill('300');
    await page.getByLabel('Long').fill('80');
    await page.getByLabel('Wide').fill('40');
    await page.getByRole('button', { name: 'Add the defect' }).click();
    await page.getByText('1200 mm from the start, 300 mm from the edge: 80 × 40 mm').waitFor();
    await saved(page);
    expect(rollIn('typed').defects).toEqual([rectangle(1200, 300, 1280, 340)]);

    await page.getByLabel('Name').fill('shelf-3');
    await page.getByRole('button', { name: /^(Remember shelf-3|Give it a name)/ }).click();
    await page.getByText('shelf-3 is kept in shared/rolls.yaml.').waitFor();
    const stock = parse(readFileSync(join(bench.root, 'shared/rolls.yaml'), 'utf8'));
    expect(stock.rolls.loop).toMatchObject([
      { name: 'shelf-3', length: 9000, dyeLot: '7', defects: [rectangle(1200, 300, 1280, 340)] },
    ]);
    expectNoComplaints(window);

    const next = await bench.open('#/run/stopped/rolls');
    await next.page.getByRole('button', { name: 'Load shelf-3' }).click();
    await next.page.getByText('1200 mm from the start, 300 mm from the edge').waitFor();
    await saved(next.page);
    expect(rollIn('stopped')).toMatchObject({ name: 'shelf-3', dyeLot: '7' });
    expectNoComplaints(next);
  });

  it('refuses to lay a part where it may not lie, and says why', async () => {
    const window = await bench.open('#/run/moved/lay');
    const { page } = window;
    await layParts(page);
    const before = readFileSync(join(bench.root, 'patterns/moved.yaml'), 'utf8');
    const lays = await laysOfRun(page, 'moved');
    const aim = await aiming(page, 'Lay of loop');
    const part = aim(middleOf(lays, 'rest-left.1.A2'));

    await dragged(page, part, aim(middleOf(lays, 'floor.1.A1')));
    await refused(page, /floor\.1\.A1/);
    await dragged(page, part, aim({ x: middleOf(lays, 'rest-left.1.A2').x, y: -100 }));
    await refused(page, /selvedge|edge of/);

    // By keys, for nobody presses a key with the hand that holds the part.
    const picture = pictureCalled(page, 'Lay of loop');
    await picture.focus();
    const walk = await walkTo(page, 'rest-left, order A2, set 1');
    await picture.press('Shift+R');
    await picture.press('Enter');
    await refused(page, /pile|turn/);
    expect(walk).toBeGreaterThan(0);
    expect(readFileSync(join(bench.root, 'patterns/moved.yaml'), 'utf8')).toBe(before);
    expect(await laysOfRun(page, 'moved')).toEqual(lays);
    expectNoComplaints(window);
  });

  it('pins a part that is dragged into free cloth, and a search leaves it there', async () => {
    const window = await bench.open('#/run/moved/lay');
    const { page } = window;
    await page.getByRole('button', { name: 'Go on searching' }).waitFor();
    const label = 'rest-left.1.A2';
    const lays = await laysOfRun(page, 'moved');
    const free: Spot = { x: Math.max(...lays.lays.map(({ length }) => length)) + 400, y: 750 };
    await oneBand(page);
    await page.getByRole('button', { name: 'Farther away' }).click();
    const aim = await aiming(page, 'Lay of loop');
    await dragged(page, aim(middleOf(lays, label)), aim(free));
    await page.getByText('1 pinned').waitFor();
    const [pin, ...others] = rollIn('moved').pins;
    expect(others).toEqual([]);
    expect(pin!.part).toBe(label);
    const laid = await laysOfRun(page, 'moved');
    const { x, y } = middleOf(laid, label);
    expect(Math.hypot(x - free.x, y - free.y)).toBeLessThan(20);

    await page.reload();
    await page.getByText('1 pinned').waitFor();
    await layParts(page);
    expect(rollIn('moved').pins).toEqual([pin]);
    const after = await laysOfRun(page, 'moved');
    expect(middleOf(after, label)).toEqual({ x, y });
    expect(after.lays[0]!.placements).toHaveLength(lays.lays[0]!.placements.length);
    expectNoComplaints(window);
  });

  it('shows one run alike in two windows, and takes over what the other has changed', async () => {
    const one = await bench.open('#/run/shared/lay');
    const other = await bench.open('#/run/shared/lay');
    await beginSearch(one.page);
    await other.page.getByRole('button', { name: 'Good enough: stop' }).waitFor();
    await soon(() => timeLeft(other.page)).toBeLessThanOrEqual(598);
    await stopSearch(other.page);
    await one.page.getByRole('button', { name: 'Go on searching' }).waitFor();
    await soon(() => figure(one.page, 'length')).toBe(await figure(other.page, 'length'));

    await step(one.page, 'Orders');
    await step(other.page, 'Orders');
    await one.page.getByLabel('Sets').fill('3');
    await one.page.getByLabel('Sets').press('Tab');
    await soon(() => other.page.getByLabel('Sets').inputValue()).toBe('3');
    for (const window of [one, other]) {
      expectNoComplaints(window);
      await window.page.context().close();
    }
  });

  it('refuses to save over what another window has changed, and shows that', async () => {
    const deaf = await bench.open();
    await deaf.page.route('**/events*', (route) => route.abort());
    await goTo(deaf, 'shared/orders');
    const sets = await deaf.page.getByLabel('Sets').inputValue();
    const one = await bench.open('#/run/shared/orders');
    await one.page.getByLabel('Binding').fill('red');
    await one.page.getByLabel('Binding').press('Tab');
    await saved(one.page);
    await soon(() => sheetOf('shared').orders[0]!.binding).toBe('red');

    await deaf.page.getByLabel('Sets').fill('9');
    await deaf.page.getByLabel('Sets').press('Tab');
    await deaf.page.getByText('The run has been changed since.').waitFor();
    await soon(() => deaf.page.getByLabel('Binding').inputValue()).toBe('red');
    await soon(() => deaf.page.getByLabel('Sets').inputValue()).toBe(sets);
    expect(sheetOf('shared').orders[0]).toMatchObject({ quantity: Number(sets), binding: 'red' });
    expectNoComplaints(one);
  });

  it('loses nothing where the browser is closed during a search, nor where the server is ended', async () => {
    const gone = await bench.open('#/run/left/lay');
    await beginSearch(gone.page);
    await lookAtLoop(gone.page);
    await soon(() => timeLeft(gone.page)).toBeLessThanOrEqual(598);
    const seen = await figure(gone.page, 'length');
    expectNoComplaints(gone);
    await gone.page.context().close();

    const window = await bench.open('#/run/left/lay');
    await window.page.getByRole('button', { name: 'Good enough: stop' }).waitFor();
    await lookAtLoop(window.page);
    await soon(() => figure(window.page, 'length')).toBeLessThanOrEqual(seen);
    // What was found so far is in the file already.
    expect(rollIn('left').laid).toHaveLength(18);
    await window.page.context().close();
    await bench.restart();
    expect(rollIn('left').laid).toHaveLength(18);
    const back = await bench.open('#/run/left/lay');
    await back.page.locator('[data-test="length"]', { hasText: / m$/ }).waitFor();
    expect(await figure(back.page, 'length')).toBeLessThanOrEqual(seen);
    expect(existsSync(join(bench.root, 'out/left'))).toBe(false);
    expectNoComplaints(back);
  });
});

describe.skipIf(chromiumHere.missing)(`a search that is lost${chromiumHere.note}`, () => {
  it('loses no more than a second where the server is killed, and the page goes on by itself', async () => {
    const bench = await openBench(wren);
    try {
      const { page } = await bench.open('#/run/wren-week/lay');
      await beginSearch(page);
      await lookAtLoop(page);
      await soon(() => timeLeft(page)).toBeLessThanOrEqual(596);
      const seen = await figure(page, 'length');
      const start = await bench.kill();
      const told = page.getByText('The server does not answer.');
      await told.waitFor({ timeout: 2000 });
      await page.getByText('the search ended with the server').waitFor();
      expect(await page.getByRole('button', { name: 'Good enough: stop' }).count()).toBe(0);
      await start();
      await page.getByText('The server was started anew.').waitFor({ timeout: 2000 });
      expect(await told.count()).toBe(0);
      // What is in the run file is shown, and no longer than what was last seen, but for a second of the search.
      await soon(() => figure(page, 'length')).toBeLessThan(1.02 * seen);
      // The page works with the new server: its key is another one.
      await beginSearch(page);
      await stopSearch(page);
    } finally {
      await bench.close();
    }
  });
});

/** Unless somebody says which roll is looked at, the page shows each while it is searched. */
async function lookAtLoop(page: Page): Promise<void> {
  const rack = page.getByRole('navigation', { name: 'Rolls' });
  await rack.getByRole('button', { name: /^loop/ }).click();
  await page.locator('[data-test="length"]', { hasText: / m$/ }).waitFor();
}

/** Three sets on a roll on which two find room. */
const short = replaced(
  replaced(wren, runFile, /heelPads: both/, 'heelPads: none, boards: false'),
  runFile,
  'length: 9000',
  'length: 3400',
);

describe.skipIf(chromiumHere.missing)(`a roll that is too short${chromiumHere.note}`, () => {
  let bench: Bench;
  beforeAll(async () => {
    bench = await openBench(short);
  }, 60_000);
  afterAll(() => bench?.close());
  const sheet = (): RunContent =>
    parse(readFileSync(join(bench.root, runFile), 'utf8')) as RunContent;
  const roll = (): { laid?: unknown[]; pins?: { part: string }[] } =>
    sheet().rolls['loop'] as never;

  it('has what fits on it, says what does not, and takes parts from the tray', async () => {
    const window = await bench.open('#/run/wren-week/lay');
    const { page } = window;
    await page.getByLabel('Search for').selectOption('10 s');
    await page.getByRole('button', { name: 'Lay the parts' }).click();
    const told = page.getByLabel('What does not fit');
    await told.getByText(/does not fit on loop: about [\d.]+ m of roll are missing/).waitFor();
    await page.getByRole('button', { name: 'Good enough: stop' }).click();
    await page.getByRole('button', { name: 'Go on searching' }).waitFor();
    await page.getByText(/^On no roll: 6 parts$/).waitFor();
    expect(roll().laid).toHaveLength(12);

    // A small one is dragged to where there is room for it.
    const tray = page.getByRole('list', { name: /^Parts of order .* on no roll$/ });
    const part = tray.getByRole('button', { name: /^rest-/ });
    const label = (await part.textContent())!;
    await part.click();
    const lays = await asked<LayTable>(page, '/api/run/wren-week/table');
    const { width } = lays.rolls.find(({ material }) => material === 'loop')!;
    const aim = await aiming(page, 'Lay of loop');
    const { length } = lays.lays.find(({ material }) => material === 'loop')!;
    const [, minY, , maxY] = lays.parts.find((one) => one.label === label)!.box;
    // It waits 60 mm past the end of the lay, across the middle; its pile leans along the roll.
    const waits = { x: length + 60 + (maxY - minY) / 2, y: width / 2 };
    await dragged(page, aim(waits), aim(freeSpot(lays, 200)));
    await page.getByText(/^On no roll: 5 parts$/).waitFor();
    expect(roll().pins?.map(({ part: name }) => name)).toEqual([label]);

    await page.keyboard.press('Control+z');
    await page.getByText(/^On no roll: 6 parts$/).waitFor();
    expect(roll().pins ?? []).toEqual([]);
    expectNoComplaints(window);
  });

  it('can be gone back to as it was, also after the page and the server were started anew', async () => {
    const before = readFileSync(join(bench.root, runFile), 'utf8');
    const first = roll().laid;
    const window = await bench.open('#/run/wren-week/orders');
    const { page } = window;
    await page.getByLabel('Sets').first().fill('1');
    await page.getByLabel('Sets').first().press('Tab');
    await soon(() => sheet().orders[0]!.quantity ?? 1).toBe(1);
    await page.getByText('Last: order A1 changed').waitFor();
    await page.context().close();
    await bench.restart();
    const again = await bench.open('#/run/wren-week/orders');
    await again.page.getByRole('button', { name: 'Undo' }).click();
    await soon(() => readFileSync(join(bench.root, runFile), 'utf8')).toBe(before);
    await soon(() => again.page.getByLabel('Sets').first().inputValue()).toBe('2');
    await again.page.getByRole('button', { name: 'Redo' }).click();
    await soon(() => sheet().orders[0]!.quantity ?? 1).toBe(1);
    // One step after the other, however quickly they are asked for: the order, then the search.
    await again.page.evaluate(() => {
      const undo = [...document.querySelectorAll('button')].find(
        (one) => one.textContent === 'Undo',
      )!;
      undo.click();
      undo.click();
    });
    await soon(() => roll().laid).toBeUndefined();
    expectNoComplaints(again);
    await again.page.getByRole('button', { name: 'Redo' }).click();
    await soon(() => readFileSync(join(bench.root, runFile), 'utf8')).toBe(before);

    // The lay that the search left is kept, and comes back when another one lies there.
    await step(again.page, 'Lay');
    await layParts(again.page);
    const earlier = again.page.getByText(/^Earlier lays \(\d+\)$/);
    await earlier.click();
    const rows = again.page.locator('.earlier-lays tbody tr');
    await rows.last().getByRole('button', { name: 'Put it back' }).click();
    await soon(() => roll().laid).toEqual(first);

    await step(again.page, 'Orders');
    const name = again.page.getByLabel('Order', { exact: true }).first();
    await name.fill('C7');
    await name.press('Tab');
    await again.page.getByText('Last: order A1 called C7').waitFor();
    const named = JSON.stringify(first).replaceAll('.A1"', '.C7"');
    expect(named).not.toBe(JSON.stringify(first));
    expect(JSON.stringify(roll().laid)).toBe(named);
    expectNoComplaints(window);
  });
});

/** The middle of a square of cloth, so many mm wide, over which nothing lies. */
function freeSpot(lays: LayTable, size: number): Spot {
  const { width } = lays.rolls.find(({ material }) => material === 'loop')!;
  for (let x = 200; x < 3200; x += 50) {
    for (let y = 150; y < width - 150; y += 50) {
      const half = size / 2 + 20;
      const around = rectangle(x - half, y - half, x + half, y + half);
      if (partsOver(lays, 'loop', around).length === 0) return { x, y };
    }
  }
  throw new Error('nothing is free');
}

function step(page: Page, name: string): Promise<void> {
  return page.getByRole('navigation', { name: 'Places of this run' }).getByText(name).click();
}

async function saved(page: Page): Promise<void> {
  await page.getByText(/^Saved as /).waitFor();
}

async function goTo({ page }: Window, address: string): Promise<void> {
  await page.evaluate((to) => {
    location.hash = `#/run/${to}`;
  }, address);
}

/** The reason for which a part goes back, and that it is back. */
async function refused(page: Page, why: RegExp): Promise<void> {
  await page.locator('.roll-verdict').filter({ hasText: why }).waitFor();
  await page.locator('.roll-canvas.held').waitFor({ state: 'detached' });
}

/** Walks on with N until the page says that it is at the part; returns how many steps that were. */
async function walkTo(page: Page, words: string): Promise<number> {
  const said = page.locator('.roll-unseen[aria-live]');
  for (let steps = 1; steps < 40; steps++) {
    await page.keyboard.press('n');
    await soon(() => said.textContent()).not.toBe('');
    if ((await said.textContent())!.startsWith(words)) return steps;
  }
  throw new Error(`no part "${words}" on the walk`);
}
