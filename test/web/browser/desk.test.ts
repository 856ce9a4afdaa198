import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { readDrawing } from '../../../src/drawing/read.ts';
import { setFile, wren } from '../../support/wren.ts';
import type { Bench } from './browser.ts';
import { chromiumHere, expectNoComplaints, openBench, soon } from './browser.ts';

interface SaidSet {
  readonly pieces: Record<string, { side: string; at?: [number, number] }>;
}

describe.skipIf(chromiumHere.missing)(`the desk of a set${chromiumHere.note}`, () => {
  let bench: Bench;
  const text = (): string => readFileSync(join(bench.root, setFile), 'utf8');
  const said = (): SaidSet => parse(text()) as SaidSet;
  beforeAll(async () => {
    bench = await openBench(wren);
  }, 90_000);
  afterAll(() => bench?.close());

  it('has every change in the files at once, and takes it back, also after a restart', async () => {
    const before = text();
    const first = await bench.open('#/sets/wren/cover');
    await first.page.getByRole('radio', { name: 'right, fixed to the body' }).click();
    await soon(() => said().pieces['cover']?.side).toBe('right');
    await first.page.keyboard.press('Control+z');
    await soon(text).toBe(before);
    await first.page.keyboard.press('Control+Shift+Z');
    await soon(() => said().pieces['cover']?.side).toBe('right');
    expectNoComplaints(first);
    await first.page.context().close();
    await bench.restart();
    const { page } = await bench.open('#/sets/wren/cover');
    await page.getByRole('button', { name: 'Undo' }).click();
    await soon(text).toBe(before);
    await page.context().close();
  });

  it('says that the set file cannot be read only while it cannot', async () => {
    const before = text();
    const { page } = await bench.open('#/sets/wren/cover');
    await page.getByRole('heading', { name: 'Wren van, cab' }).waitFor();
    const stops = page.locator('.finding.error');
    expect(await stops.count()).toBe(0);
    writeFileSync(join(bench.root, setFile), `${before}\nfront: [top\n`);
    await stops.first().waitFor();
    writeFileSync(join(bench.root, setFile), before);
    await soon(() => stops.count()).toBe(0);
    await page.context().close();
  });

  it('shows what an editor does to the files meanwhile, and loses none of it', async () => {
    const before = text();
    const { page } = await bench.open('#/sets/wren/cover');
    await page.getByRole('heading', { name: 'Wren van, cab' }).waitFor();
    writeFileSync(join(bench.root, setFile), before.replace('Wren van, cab', 'Wren by hand'));
    await page.getByRole('heading', { name: 'Wren by hand' }).waitFor();
    await page.getByText('The files were changed outside of this page').waitFor();
    await page.getByRole('radio', { name: 'the middle' }).click();
    await soon(() => said().pieces['cover']?.side).toBe('centre');
    expect(text()).toContain('Wren by hand');
    const undo = page.getByRole('button', { name: 'Undo' });
    await undo.click();
    await soon(() => said().pieces['cover']?.side).toBe('left');
    await soon(() => undo.getAttribute('title')).toBe('changed outside of this page');
    await undo.click();
    await soon(text).toBe(before);
    await page.context().close();
  });

  it('says what a thing is by the list and by the picture, and the drawing has it on that layer', async () => {
    const { page } = await bench.open('#/sets/wren/floor');
    const layers = (): string[] =>
      readDrawing(join(bench.root, 'patterns/wren/wren.dxf'), { setUnits: 'mm' })
        .blocks.find(({ name }) => name === 'FLOOR')!
        .entities.map(({ layer }) => layer);
    expect(layers()).toContain('FOLD');
    const line = page.getByRole('button', { name: /^fold line/ });
    await line.focus();
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: 'Stitch line', exact: true }).click();
    await soon(layers).not.toContain('FOLD');
    expect(layers()).toContain('STITCH');
    await page.getByRole('radio', { name: 'the left side' }).click();
    await soon(layers).toContain('STITCH-LEFT');
    await page.getByRole('button', { name: 'Done' }).click();
    // The same by pointing: the hole of the drain at 100, 100 lies in the lower half, right of the middle.
    const picture = page.locator('.canvas');
    const thing = picture.locator('g.thing.hole').last();
    const box = (await thing.boundingBox())!;
    await page.mouse.click(box.x + box.width / 2, box.y + 2);
    await page.getByRole('button', { name: 'Take off the piece' }).waitFor();
    for (let i = 0; i < 2; i++) await page.getByRole('button', { name: 'Undo' }).click();
    await soon(layers).toContain('FOLD');
    await page.context().close();
  });

  it('lays a piece in its place by dragging it on the plan, and by figures', async () => {
    const window = await bench.open('#/sets/wren');
    const { page } = window;
    const piece = page.locator('[data-piece="cover"]');
    await piece.waitFor();
    const box = (await piece.boundingBox())!;
    const [x, y] = [box.x + box.width / 4, box.y + box.height / 2];
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x - 40, y - 60, { steps: 4 });
    await page.mouse.up();
    await soon(() => said().pieces['cover']?.at !== undefined).toBe(true);
    const [right, forward] = said().pieces['cover']!.at!;
    expect(right).toBeLessThan(0);
    expect(forward).toBeGreaterThan(0);
    await soon(() => page.getByLabel('To the right').inputValue()).not.toBe('0');
    await page.getByLabel('To the right').fill('-800');
    await page.keyboard.press('Tab');
    await soon(() => said().pieces['cover']?.at?.[0]).toBe(-800);
    await page.getByRole('button', { name: 'Move by arrow keys' }).press('ArrowUp');
    await soon(() => said().pieces['cover']?.at?.[1]).toBeCloseTo(forward + 10, 6);
    expectNoComplaints(window);
    await page.context().close();
  });
});
