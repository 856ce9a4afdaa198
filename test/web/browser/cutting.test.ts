import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { pileway } from '../../cli/pileway.ts';
import { replaced, runFile, wren } from '../../support/wren.ts';
import type { Bench, Window } from './browser.ts';
import { chromiumHere, expectNoComplaints, openBench, soon } from './browser.ts';
import { looksWrong } from './looks.ts';

/** Three rolls; the loop has a name, so that what is left of it can be booked, and is cut in two bites. */
const files = replaced(wren, runFile, 'length: 9000', 'name: R1, length: 9000');
const place = '#/run/wren-week/cutting';

// One window goes the whole way, test by test, as an operator does.
describe.skipIf(chromiumHere.missing)(`the cutting desk${chromiumHere.note}`, () => {
  let bench: Bench;
  let window: Window;
  let page: Page;
  const marksFile = (): string => join(bench.root, 'out/wren-week.marks.yaml');
  const ticked = (): string[] =>
    parse(readFileSync(marksFile(), 'utf8'))
      .cuttings.at(-1)
      .ticks.map(({ roll, step }: { roll: string; step: string }) => `${roll} ${step}`);
  beforeAll(async () => {
    bench = await openBench(files);
    await cut('--effort', '1');
    window = await bench.open(place);
    page = window.page;
  }, 180_000);
  afterAll(() => bench?.close());

  const cut = async (...args: string[]): Promise<void> => {
    const { code, stderr } = await pileway(bench.main, bench.root, ['cut', runFile, ...args]);
    expect(code, stderr).toBe(0);
  };
  const at = (title: string | RegExp, where = page): Promise<void> =>
    where.getByRole('heading', { level: 2, name: title }).waitFor();
  const press = (name: string | RegExp): Promise<void> =>
    page.getByRole('button', { name }).first().click();

  const expectFocusOn = (words: string) =>
    soon(() => page.evaluate(() => document.activeElement?.textContent)).toBe(words);

  it('is read from across the room at any width, light and dark, and its button is in sight', async () => {
    await at('Load loop-R1');
    const found: string[] = [];
    for (const [width, height] of [
      [1024, 768],
      [1440, 900],
      [2560, 1440],
    ] as const) {
      await page.setViewportSize({ width, height });
      found.push(...(await looksWrong(page)).map((words) => `${width}: ${words}`));
      for (const seen of [page.locator('.main-button'), page.locator('.bite-picture')]) {
        const box = (await seen.boundingBox())!;
        if (box.y + box.height > height) found.push(`${width}: ${String(seen)} is out of sight`);
        if (box.height < 56) found.push(`${width}: ${String(seen)} is ${box.height} px high`);
      }
    }
    expect(found).toEqual([]);
    await page.setViewportSize({ width: 1440, height: 900 });
  });

  it('goes step by step by keys, gives out what each needs, and tells other windows', async () => {
    const other = await bench.open(place);
    await at('Load loop-R1', other.page);
    // Nothing has the focus: Space says it, and a key that is held down says it once.
    await page.evaluate(() => (document.activeElement as HTMLElement).blur());
    await page.keyboard.down(' ');
    await at('Run the dry program');
    await page.keyboard.down(' ');
    await page.keyboard.up(' ');
    await at('Run the dry program', other.page);
    // A finger that was on its way to the button there ticks nothing else.
    await other.page.getByRole('button', { name: 'It ran clean' }).dispatchEvent('click');
    await other.page.getByText('Another window has ticked').waitFor();
    expect(ticked()).toEqual(['loop-R1 load']);
    const [dry] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('link', { name: 'Dry program, knife up' }).click(),
    ]);
    expect(dry.suggestedFilename()).toBe('loop-R1.dry.nc');
    await page.getByRole('button', { name: 'It ran clean' }).focus();
    await page.keyboard.down('Enter');
    await at('Cut bite 1 of 2');
    await page.keyboard.down('Enter');
    await page.keyboard.up('Enter');
    // The focus has gone to what comes next.
    await soon(() => page.evaluate(() => document.activeElement?.textContent)).toBe(
      'Bite 1 is cut',
    );
    expect(ticked()).toEqual(['loop-R1 load', 'loop-R1 dry']);
    await other.page.context().close();
  });

  it('stands where it stood when the server is killed between two bites, and a second click ticks nothing', async () => {
    await page.getByRole('button', { name: 'Bite 1 is cut' }).dblclick({ delay: 150 });
    await at('Cut bite 2 of 2');
    expect(ticked().at(-1)).toBe('loop-R1 bite 1');
    const start = await bench.kill();
    await start();
    await page.reload();
    // That it missed the server meanwhile is as it should be.
    window.complaints.splice(0);
    await page.getByText('Begin again with bite 2: bite 1 is cut.').waitFor();
    expect(ticked().at(-1)).toBe('loop-R1 bite 1');
    const [alone] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('link', { name: 'Bite 2 alone, to begin again' }).click(),
    ]);
    expect(alone.suggestedFilename()).toBe('loop-R1.bite-2.nc');
    await press('Not yet: Bite 1');
    await at('Cut bite 1 of 2');
    await press('Bite 1 is cut');
    await at('Cut bite 2 of 2');
    await press('Something went wrong');
    await page.getByText('Begin again with bite 2: bite 1 is cut.').waitFor();
    await press('Back to the work');
    await expectFocusOn('Bite 2 is cut');
    await press('Bite 2 is cut');
    await press('All labels are on');
    await at(/^Are all \d+ parts there/);
  });

  it('has spoilt parts cut again at a desk of their own, with a way back', async () => {
    const spoilt = ['cover-left.1.A1', 'mat-left.2.A1'];
    for (const label of spoilt) await page.getByLabel('Part by name').selectOption(label);
    await page.getByText(`Chosen: ${spoilt.join(', ')}`).waitFor();
    await press('Cut them again');
    await page.getByText('out/wren-week-recut, recut of wren-week').waitFor({ timeout: 30_000 });
    await at('Load loop-R1');
    const record = JSON.parse(
      readFileSync(join(bench.root, 'out/wren-week-recut/run.json'), 'utf8'),
    );
    const placed: { label: string }[] = record.lays.flatMap(
      (lay: { placements: unknown[] }) => lay.placements,
    );
    expect(placed.map(({ label }) => label).sort()).toEqual(spoilt);
    for (const done of ['The roll is on', 'It ran clean', 'The roll is cut', 'All labels are on']) {
      await press(done);
    }
    await press('All 2 parts are there');
    await press('Leave it as it stands');
    await at('All of it is cut');
    await page.getByRole('link', { name: 'Back to wren-week' }).first().click();
    await page
      .getByRole('link', { name: 'wren-week-recut: 2 parts cut again, all there' })
      .waitFor();
  });

  it('books what is left once, goes on with the next roll by itself, and ends quietly', async () => {
    await press(/^All \d+ parts are there$/);
    await at('Book what is left');
    await press(/^Book \d+ mm of R1$/);
    await at(/^Load (board|rubber)$/);
    const [rest] = [
      parse(readFileSync(join(bench.root, 'shared/rolls.yaml'), 'utf8')).rolls.loop,
    ].flat();
    expect(rest.name).toBe('R1');
    // Less than there was, by what the run and its recut have taken.
    const lengths = ['wren-week', 'wren-week-recut'].map(
      (run) =>
        JSON.parse(readFileSync(join(bench.root, 'out', run, 'run.json'), 'utf8')).lays[0].length,
    );
    expect(rest.length).toBe(Math.floor(9000 - lengths[0] - lengths[1]));
    for (let roll = 0; roll < 2; roll++) {
      for (const done of [
        'The roll is on',
        'It ran clean',
        'The roll is cut',
        /labels? (is|are) on/,
        /^(All \d+ parts are|The part is) there$/,
      ]) {
        await press(done);
      }
    }
    await at('All of it is cut');
    expect(ticked()).toHaveLength(2 * 5 + 7);
  });

  it('ticks nothing while its file cannot be read, and loses nothing of it', async () => {
    const sound = readFileSync(marksFile(), 'utf8');
    const broken = sound.replace('step: bite 2', 'step: lunch');
    writeFileSync(marksFile(), broken);
    await page.reload();
    await at('What is cut cannot be read');
    const line = 1 + broken.slice(0, broken.indexOf('step: lunch')).split('\n').length - 1;
    await page.getByText(new RegExp(`out/wren-week\\.marks\\.yaml:${line}\\b`)).waitFor();
    expect(await page.locator('.main-button').count()).toBe(0);
    expect(readFileSync(marksFile(), 'utf8')).toBe(broken);
    writeFileSync(marksFile(), sound);
    await press('Read it again');
    await at('All of it is cut');
  });

  it('asks before files are made anew of which bites are cut, and takes no tick for other files', async () => {
    await press('Make the files anew');
    await page.getByText('4 bites are cut from them already.').waitFor();
    await press('Keep them');
    const before = readFileSync(marksFile(), 'utf8');
    const file = join(bench.root, runFile);
    writeFileSync(file, readFileSync(file, 'utf8').replace('dyeLot: "7"', 'dyeLot: "8"'));
    await page.reload();
    await page.getByRole('region', { name: /^Do not cut: made before/ }).waitFor();
    expect(await page.locator('.main-button, a[href*=".nc"]').count()).toBe(0);
    await cut('--effort', '1', '--force');
    await page.reload();
    await page.getByText(/Bites 1 and 2 of loop-R1.* were cut from files made before/).waitFor();
    expect(readFileSync(marksFile(), 'utf8')).toBe(before);
    await press('Begin anew with these files');
    await at('Load loop-R1');
    expect(parse(readFileSync(marksFile(), 'utf8')).cuttings).toHaveLength(2);
    expectNoComplaints(window);
  });
});
