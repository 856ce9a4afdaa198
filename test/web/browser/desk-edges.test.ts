/// <reference lib="dom" />
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readSet } from '../../../src/pattern/set.ts';
import { middleOfPath, pathLength } from '../../../src/geometry/paths/path.ts';
import { claimEdges, tracesOf } from '../../../src/pattern/edges.ts';
import { pileway } from '../../cli/pileway.ts';
import { bareWren } from '../../drafting/bare-wren.ts';
import type { Bench } from './browser.ts';
import { chromiumHere, expectNoComplaints, openBench, soon } from './browser.ts';
import { placeOf, pointAt } from './desk-picture.ts';
import { looksWrong } from './looks.ts';

describe.skipIf(chromiumHere.missing)(`edges at the desk${chromiumHere.note}`, () => {
  let bench: Bench;
  beforeAll(async () => {
    bench = await openBench(bareWren);
  }, 90_000);
  afterAll(() => bench?.close());

  /** What the files say of a piece's edges: kind, length and middle of each. */
  const read = (name: string): string[] => {
    const folder = join(bench.root, 'patterns/wren');
    const piece = readSet(folder, join(bench.root, 'shared')).pieces.find(
      (one) => one.name === name,
    )!;
    const { outline, features, entry, where } = piece;
    return claimEdges(outline, tracesOf(features), entry.edge ?? null, where).stretches.map(
      ({ kind, path }) => {
        const { x, y } = middleOfPath(path);
        return `${kind} ${pathLength(path).toFixed(0)} at ${x.toFixed(0)} ${y.toFixed(0)}`;
      },
    );
  };
  const setText = (): string => readFileSync(join(bench.root, 'patterns/wren/set.yaml'), 'utf8');

  it('are decided by pointing, from the list and by keyboard, and make a seam with notches that check finds sound', async () => {
    const window = await bench.open('#/sets/wren/floor');
    const { page } = window;
    const list = page.getByRole('list', { name: 'Stretches round the piece' });
    const say = (kind: string): Promise<void> =>
      page
        .getByRole('group', { name: 'What happens to it?' })
        .getByRole('button', { name: kind })
        .click();
    await list.waitFor();

    // By pointing: the rear edge.
    await pointAt(page, 0, [-300, 0]);
    await say('Left raw');
    await soon(() => read('floor')).toEqual(['raw 1100 at 0 0']);
    await page.getByLabel('Covered by').fill('the seat base');
    await page.getByLabel('Covered by').press('Enter');
    await soon(setText).toContain('the seat base');

    // From the list: both sides at once. By keyboard alone, but for the first.
    const sides = list.getByRole('button', { name: /900 mm/ });
    await sides.first().click();
    await page.getByLabel('Choose several').focus();
    await page.keyboard.press('Space');
    await sides.last().focus();
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: 'Tucked' }).focus();
    await page.keyboard.press('Enter');
    await soon(() =>
      read('floor')
        .filter((one) => one.startsWith('tuck'))
        .sort(),
    ).toEqual(['tuck 900 at -550 450', 'tuck 900 at 550 450']);

    // By sweeping along the front, which a notch divides; then the other edge on the piece beside it.
    await page.getByLabel('Choose several').press('Space');
    await sweep(page, [
      [-500, 900],
      [0, 900],
      [500, 900],
    ]);
    await soon(() => list.locator('.edge-entry[aria-pressed="true"]').count()).toBe(2);
    await page.getByRole('button', { name: 'Sewn to' }).click();
    await page
      .getByRole('list', { name: 'The other piece' })
      .getByRole('button', { name: 'dash' })
      .click();
    await pointAt(page, 1, [-300, 920]);
    await pointAt(page, 1, [400, 920], true);
    const facts = page.getByRole('region', { name: /^floor sewn to dash/ });
    await facts.getByText('of one length').waitFor();
    expect(await facts.getByText('1100.0 mm').count()).toBe(2);
    await facts.getByRole('button', { name: 'It is a seam' }).click();
    const notches = facts.getByLabel('Notches on both');
    await notches.fill('2');
    await notches.press('Enter');
    await facts.getByLabel('In place of those').press('Space');
    await facts.getByRole('button', { name: 'Set 2 on both' }).click();
    await facts.getByText('3 notches meet').waitFor();
    expect(await looksWrong(page)).toEqual([]);
    expectNoComplaints(window);
    await facts.getByRole('button', { name: 'Done' }).click();

    // All the rest of the other piece, said once.
    await page.goto(`${bench.url()}#/sets/wren/dash`);
    await page.getByLabel('All the rest of this piece').selectOption('bound');
    await soon(setText).toMatch(/dash: .*edge: bound/);
    const checked = await pileway(bench.main, bench.root, ['check', 'patterns/wren']);
    const told = (checked.stdout + checked.stderr).split('\n');
    expect(told.filter((one) => /seam|floor|dash/.test(one) && /error/.test(one))).toEqual([]);
  }, 120_000);

  it('are divided at a place, and answered from a question, which goes on to what is left', async () => {
    const { page } = await bench.open('#/sets/wren/rest');
    const list = page.getByRole('list', { name: 'Stretches round the piece' });
    await list
      .getByRole('button', { name: /200 mm/ })
      .first()
      .click();
    await page.getByText('Divide it').click();
    await page.getByLabel('From its beginning').fill('60');
    await page.getByLabel('From its beginning').press('Enter');
    await list.getByRole('button', { name: /\b60 mm/ }).click();
    await page.getByRole('button', { name: 'Turned under' }).click();
    await soon(() => read('rest').some((one) => one.startsWith('turned 60 '))).toBe(true);

    // What is left of the question's stretches is chosen, and after the last the next piece is shown.
    await page.goto(`${bench.url()}#/sets/wren/mat`);
    const question = page.getByRole('region', { name: 'Asked now' });
    await question.filter({ hasText: 'What happens to its edge' }).waitFor();
    await question.getByRole('button', { name: 'Show where' }).click();
    const pressed = list.locator('.edge-entry[aria-pressed="true"]');
    const all = await list.locator('.edge-entry').count();
    await soon(() => pressed.count()).toBe(all);
    await list.locator('.edge-entry').first().click();
    await page.getByRole('button', { name: 'Bound', exact: true }).click();
    await soon(() => pressed.count()).toBe(all - 1);
    await page.getByRole('button', { name: 'Bound', exact: true }).click();
    await soon(() => page.url()).toMatch(/rest$/);
  });
});

async function sweep(page: Page, way: readonly (readonly [number, number])[]): Promise<void> {
  const [first, ...others] = await Promise.all(way.map((at) => placeOf(page, 0, at)));
  await page.mouse.move(...first!);
  await page.mouse.down();
  for (const [x, y] of others) await page.mouse.move(x, y, { steps: 4 });
  await page.mouse.up();
}
