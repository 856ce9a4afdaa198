/// <reference lib="dom" />
import { existsSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { dxf, line } from '../../drawing/dxf.ts';
import { customerDrawing } from '../../support/customer-drawing.ts';
import { rectangle } from '../../support/imported.ts';
import { wren } from '../../support/wren.ts';
import type { Bench } from './browser.ts';
import { chromiumHere, expectNoComplaints, openBench, soon } from './browser.ts';
import { looksWrong } from './looks.ts';

const drawing = customerDrawing();

describe.skipIf(chromiumHere.missing)(`a drawing before it is a set${chromiumHere.note}`, () => {
  let bench: Bench;
  beforeAll(async () => {
    bench = await openBench(wren);
  }, 60_000);
  afterAll(() => bench?.close());
  afterEach(() => {
    for (const set of ['tourer', 'coach', 'tourer-2']) {
      rmSync(join(bench.root, 'patterns', set), { recursive: true, force: true });
    }
    rmSync(join(bench.root, 'shared/customers'), { recursive: true, force: true });
  });
  const sets = (): string[] => readdirSync(join(bench.root, 'patterns')).sort();

  it('is dropped, looked at, said, and becomes a set in its desk; the next needs no answers', async () => {
    const window = await bench.open('#/sets');
    const { page } = window;
    await drop(page, 'tourer.dxf', drawing);
    await page.getByRole('heading', { name: 'tourer.dxf' }).waitFor();
    // Its units are asked, with the size of the largest piece.
    await page.getByText('First say how long it is.').waitFor();
    expect(await page.getByRole('button', { name: 'Begin the set' }).isDisabled()).toBe(true);
    await page.getByRole('radio', { name: /1,780 mm.*inches/ }).check();
    const picture = page.getByRole('application', { name: /3 pieces, 2,400 by/ });
    await picture.waitFor();
    // The piece under the pointer, and the one that the keyboard walks to, say their size.
    await picture.press('n');
    const size = page.locator('[data-test="under"]');
    await soon(() => size.textContent()).toBe('FRONT MAT 1,780 by 640 mm (70.1 by 25.2 in)');
    await page.getByLabel('Drawn by (customer)').fill('hollin');
    await page.getByLabel('Drawn by (customer)').blur();
    for (const [layer, means] of [
      ['Schnittkante', 'Outline of a piece'],
      ['Größe "B"', 'Cutout'],
      ['Knips', 'Notch'],
      ['Band', 'Edge: bound'],
      ['Absatz', 'Heel pad'],
    ]) {
      await page.getByLabel(`What is on ${layer}?`, { exact: true }).selectOption(means!);
      const row = page.getByRole('listitem').filter({ hasText: layer! }).first();
      await row.getByRole('checkbox', { name: 'In all drawings by hollin' }).check();
    }
    await page.getByLabel('What is on Absatz goes with').selectOption('goes with the driver');
    // What is left out glows, and is told in words with a way to it.
    await page.getByRole('button', { name: 'Show an open line 500 mm long on Hilfslinie' }).click();
    expect(await page.locator('.halo').getAttribute('d')).toMatch(/^M[^M]+Z$/);
    await page.getByLabel('Name of the set').fill('coach');
    await page.getByLabel('Title on papers').fill('Fenlark coach');
    await page.getByRole('radio', { name: 'LHD, driver left' }).check();
    await page.getByText('1 layer not said yet').waitFor();
    await page.getByRole('button', { name: 'Begin the set' }).click();
    await soon(() => page.url()).toMatch(/#\/sets\/coach$/);
    await page.getByRole('heading', { name: 'Fenlark coach' }).waitFor();
    const set = parse(readFileSync(join(bench.root, 'patterns/coach/set.yaml'), 'utf8'));
    expect(set).toMatchObject({ title: 'Fenlark coach', drawn: 'LHD', drawnBy: 'hollin' });
    expect(Object.keys(set.open)).toEqual(['pile', 'left-out']);
    const kept = readFileSync(join(bench.root, 'patterns/coach/received/tourer.dxf'), 'utf8');
    expect(kept).toBe(drawing);

    // The next drawing by hollin: nothing is asked about what is known.
    await page.goto(`${bench.url()}#/sets`);
    await drop(page, 'tourer.dxf', drawing);
    await page.getByText(/This very drawing came before/).waitFor();
    await page.getByRole('radio', { name: /1,780 mm.*inches/ }).check();
    await page.getByLabel('Drawn by (customer)').fill('hollin');
    await page.getByLabel('Drawn by (customer)').blur();
    await page.getByText('1 layer not said yet').waitFor();
    await page.getByRole('button', { name: 'Begin the set' }).click();
    await soon(() => page.url()).toMatch(/#\/sets\/tourer$/);
    expectNoComplaints(window);
  });

  it('shows one layer strongly, goes by keyboard alone, and looks right', async () => {
    const window = await bench.open('#/sets', { viewport: { width: 1024, height: 768 } });
    const { page } = window;
    await take(page, 'tourer.dxf', drawing);
    await page.getByRole('radio', { name: /1,780 mm/ }).focus();
    await page.keyboard.press('Space');
    await page.getByRole('application', { name: /3 pieces, 2,400 by/ }).waitFor();
    const show = page.getByRole('button', { name: /^Knips/ });
    await show.focus();
    await page.keyboard.press('Enter');
    expect(await show.getAttribute('aria-pressed')).toBe('true');
    expect(await page.locator('.sight-lines .strong').count()).toBe(1);
    expect(await page.locator('.sight-lines .thread.faint').count()).toBe(6);
    const moved = (): Promise<string | null> =>
      page.locator('.sight-lines > g').first().getAttribute('transform');
    const before = await moved();
    const picture = page.getByRole('application');
    await picture.press('+');
    await picture.press('ArrowLeft');
    expect(await moved()).not.toBe(before);
    await picture.press('0');
    expect(await moved()).toBe(before);
    expect(await looksWrong(page)).toEqual([]);
    expectNoComplaints(window);
  });

  it('says in words what is wrong with what is dropped, and makes nothing of it', async () => {
    const window = await bench.open('#/sets');
    const { page } = window;
    const before = sets();
    const bad: [string, string | Buffer, RegExp][] = [
      ['empty.dxf', '', /this file is empty/i],
      ['photo.dxf', Buffer.from([0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10]), /a PNG picture/],
      ['old.dwg', 'AC1032\0\0\0\0', /a DWG drawing/],
      ['half.dxf', drawing.slice(0, drawing.length / 2), /incomplete, cut off/],
      ['letter.dxf', 'Dear all,\nit is on its way.\n', /DXF/],
    ];
    for (const [name, content, words] of bad) {
      await take(page, name, content);
      await page.getByRole('heading', { name }).waitFor();
      await page.getByText('This drawing cannot be read, and nothing was made of it.').waitFor();
      expect(await page.getByRole('list', { name: 'Findings' }).textContent()).toMatch(words);
    }
    await page.evaluate(() => {
      const data = new DataTransfer();
      for (const name of ['a.dxf', 'b.dxf']) data.items.add(new File(['x'], name));
      dispatchEvent(new DragEvent('drop', { dataTransfer: data, cancelable: true }));
    });
    await page.getByText(/Take one drawing at a time/).waitFor();
    await page.evaluate(() => {
      const data = new DataTransfer();
      data.items.add(new File([new Uint8Array(64e6)], 'huge.dxf'));
      dispatchEvent(new DragEvent('drop', { dataTransfer: data, cancelable: true }));
    });
    await page.getByText(/The file huge\.dxf has 64 MB/).waitFor();
    expect(sets()).toEqual(before);
    expectNoComplaints(window, 422);
  });

  it('that has no outline is shown all the same, and says what stops it', async () => {
    const window = await bench.open('#/sets');
    const { page } = window;
    const open = [line(0, 0, 600, 0, 'A'), line(600, 0, 600, 400, 'A')];
    await take(page, 'open.dxf', dxf({ entities: open }));
    await page.getByRole('heading', { name: 'What stops it' }).waitFor();
    await page.getByRole('application', { name: /0 pieces, 600 by 400 mm/ }).waitFor();
    expect(await page.getByRole('button', { name: 'Begin the set' }).isDisabled()).toBe(true);
    expectNoComplaints(window);
  });

  it('refuses a name that is taken or none, with all that was said still there', async () => {
    const window = await bench.open('#/sets');
    const { page } = window;
    const before = sets();
    const mat = [rectangle(0, 0, 600, 400, 'OUTLINE'), line(50, 50, 300, 90, "it's; <b>Ü")];
    await take(
      page,
      'mat.dxf',
      dxf({
        header: [
          [9, '$INSUNITS'],
          [70, 4],
        ],
        entities: mat,
      }),
    );
    await page.getByLabel("What is on it's; <b>Ü?").selectOption('Fold line');
    for (const name of ['a/b', '../x', 'Mat', '']) {
      await page.getByLabel('Name of the set').fill(name);
      await page.getByLabel('Name of the set').blur();
      await page
        .getByText('Small letters, digits and single hyphens, at most 40.')
        .first()
        .waitFor();
    }
    await page.getByLabel('Name of the set').fill('wren');
    await page.getByRole('button', { name: 'Begin the set' }).click();
    const told = page.getByRole('list', { name: 'Not begun' });
    await told.waitFor();
    expect(await told.textContent()).toMatch(/this set exists already/i);
    expect(await page.getByLabel("What is on it's; <b>Ü?").inputValue()).toBe('FOLD');
    expect(sets()).toEqual(before);
    await page.getByLabel('Name of the set').fill('tourer');
    await page.getByRole('button', { name: 'Begin the set' }).click();
    await soon(() => existsSync(join(bench.root, 'patterns/tourer/set.yaml'))).toBe(true);
    const { layers } = parse(readFileSync(join(bench.root, 'patterns/tourer/set.yaml'), 'utf8'));
    expect(Object.values(layers)).toEqual(['FOLD']);
    expectNoComplaints(window, 422);
  });
});

/** Drops a drawing anywhere on the page. */
async function drop(page: Page, name: string, content: string): Promise<void> {
  await page.getByRole('button', { name: 'Choose a drawing' }).waitFor();
  await page.evaluate(
    ([called, text]) => {
      const data = new DataTransfer();
      data.items.add(new File([text!], called!));
      const event = (kind: string): DragEvent =>
        new DragEvent(kind, { dataTransfer: data, bubbles: true, cancelable: true });
      document.body.dispatchEvent(event('dragover'));
      document.body.dispatchEvent(event('drop'));
    },
    [name, content],
  );
}

/** Chooses a drawing with the button. */
async function take(page: Page, name: string, content: string | Buffer): Promise<void> {
  await page.getByLabel('Drawing (DXF)').setInputFiles({
    name,
    mimeType: 'application/octet-stream',
    buffer: Buffer.from(content),
  });
}
