import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Locator } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import type { RollEntry, RunContent } from '../../../src/run/run-file.ts';
import { runFile, wren } from '../../support/wren.ts';
import type { Bench } from './browser.ts';
import { chromiumHere, expectNoComplaints, openBench, soon } from './browser.ts';

/** Runs of a test's own, alike but for their name. */
const names = ['lengths', 'named', 'counted', 'texts'];
const runs = Object.fromEntries(
  names.map((name) => [`patterns/${name}.yaml`, String(wren[runFile])]),
);

describe.skipIf(chromiumHere.missing)(`what is typed into fields${chromiumHere.note}`, () => {
  let bench: Bench;
  beforeAll(async () => {
    bench = await openBench({ ...wren, ...runs });
  }, 60_000);
  afterAll(() => bench?.close());

  const kept = (run: string): RunContent =>
    parse(readFileSync(join(bench.root, `patterns/${run}.yaml`), 'utf8')) as RunContent;
  const roll = (): Partial<RollEntry> => [kept('lengths').rolls['loop']].flat()[0]!;

  it('takes lengths in any unit, asks what can be read in two ways, and keeps what is wrong', async () => {
    const window = await bench.open('#/run/lengths/rolls');
    const { page } = window;
    const length = page.getByLabel('Length on the roll');
    await expectInItsBox(length, 'mm');
    await typed(length, '12,5 m');
    await soon(() => roll().length).toBe(12_500);
    expect(await length.inputValue()).toBe('12500');

    await typed(length, '9,5');
    await expectWrong(
      length,
      '9,5',
      '9.5 mm is no length of a roll: did you mean 9.5 m? 12 500 mm still holds.',
    );
    await typed(page.getByLabel('Start margin'), '2"');
    await soon(() => roll().startMargin).toBe(50.8);
    // It stays whatever else is saved.
    expect(await length.inputValue()).toBe('9,5');
    expect(roll().length).toBe(12_500);
    await page.getByRole('button', { name: '9.5 m' }).press('Enter');
    await soon(() => roll().length).toBe(9500);
    await expectRight(length, '9500');
    expect(await length.evaluate((field) => field === document.activeElement)).toBe(true);

    await typed(length, '1.900');
    await expectWrong(length, '1.900', '1900 mm or 1.9 mm? 9500 mm still holds.');
    await page.getByRole('button', { name: '1.9 mm' }).click();
    await soon(() => saidOf(length)).toContain('did you mean 1.9 m?');
    expect(roll().length).toBe(9500);
    await page.getByRole('button', { name: '1.9 m', exact: true }).click();
    await soon(() => roll().length).toBe(1900);

    await typed(length, '1e3');
    await expectWrong(
      length,
      '1e3',
      '“1e3” is no number: write digits, like 1900 or 12.5. 1900 mm still holds.',
    );
    await typed(length, '');
    await expectRight(length, '');
    await soon(() => roll().length).toBeUndefined();
    expectNoComplaints(window);
  });

  it('adds no defect while one of its figures is not taken', async () => {
    const window = await bench.open('#/run/lengths/rolls');
    const { page } = window;
    await page.getByText('Type a defect').click();
    await page.getByLabel('From the start').fill('1.2 m');
    await page.getByLabel('From the edge').fill('30 cm');
    await page.getByLabel('Long').fill('80');
    await page.getByLabel('Wide').fill('forty');
    await page.getByRole('button', { name: 'Add the defect' }).press('Enter');
    await page.getByText('A figure is not taken yet').waitFor();
    await expectWrong(
      page.getByLabel('Wide'),
      'forty',
      '“forty” is no number: write digits, like 1900 or 12.5. Nothing is taken yet.',
    );
    expect(roll().defects ?? []).toEqual([]);
    await page.getByLabel('Wide').fill('40');
    await page.getByRole('button', { name: 'Add the defect' }).press('Enter');
    await page.getByText('1200 mm from the start, 300 mm from the edge: 80 × 40 mm').waitFor();
    expectNoComplaints(window);
  });

  it('leaves the name of another roll in its field, with the reason', async () => {
    const window = await bench.open('#/run/named/rolls');
    const { page } = window;
    const name = page.getByLabel('Name', { exact: true });
    await typed(name, 'shelf-1');
    await page.getByRole('button', { name: 'Add another roll' }).click();
    await page.getByText('Roll 2').waitFor();
    await typed(name, 'Shelf-1');
    await expectWrong(name, 'Shelf-1', 'no other roll’s name. Nothing is taken yet.');
    await typed(name, 'shelf-2');
    await expectRight(name, 'shelf-2');
    await soon(() => [kept('named').rolls['loop']].flat().map((one) => one!.name)).toEqual([
      'shelf-1',
      'shelf-2',
    ]);
    expectNoComplaints(window);
  });

  it('rounds no count', async () => {
    const window = await bench.open('#/run/counted/orders');
    const { page } = window;
    const sets = page.getByLabel('Sets', { exact: true });
    const before = kept('counted').orders[0]!.quantity ?? 1;
    await typed(sets, '1.5');
    await expectWrong(sets, '1.5', `A set is cut whole: 1 or 2. ${before} still holds.`);
    expect(kept('counted').orders[0]!.quantity ?? 1).toBe(before);
    await page.getByRole('button', { name: '2', exact: true }).click();
    await soon(() => kept('counted').orders[0]!.quantity).toBe(2);
    expectNoComplaints(window);
  });

  it('refuses a text that is too long, and leaves it in its field', async () => {
    const window = await bench.open('#/run/texts/orders');
    const { page } = window;
    const before = readFileSync(join(bench.root, 'patterns/texts.yaml'), 'utf8');
    await page.getByText(/^Customer, day, notes/).click();
    const name = kept('texts').orders[0]!.order;
    const cases = [
      ['Order', 5000, `at most 40 letters go into the names of files. “${name}” still holds.`],
      ['Customer', 61, 'at most 60 letters fit on a label. Nothing is taken yet.'],
      ['Note for the bench', 601, 'at most 600 letters are printed. Nothing is taken yet.'],
    ] as const;
    for (const [label, letters, words] of cases) {
      const field = page.getByLabel(label, { exact: true });
      await typed(field, 'x'.repeat(letters));
      await expectWrong(field, 'x'.repeat(letters), `${letters} letters: ${words}`);
    }
    expect(readFileSync(join(bench.root, 'patterns/texts.yaml'), 'utf8')).toBe(before);
    await typed(page.getByLabel('Customer', { exact: true }), 'x'.repeat(60));
    await soon(() => kept('texts').orders[0]!.customer).toBe('x'.repeat(60));
    expectNoComplaints(window);
  });
});

async function typed(field: Locator, text: string): Promise<void> {
  await field.fill(text);
  await field.press('Tab');
}

/** What those hear of a field who do not see it, with plain spaces. */
async function saidOf(field: Locator): Promise<string> {
  const said = await field.evaluate((one) =>
    one
      .getAttribute('aria-describedby')!
      .split(' ')
      .map((id) => document.getElementById(id)!.textContent)
      .join(' '),
  );
  return said.replaceAll(/[\u00a0\u202f]/g, ' ');
}

async function expectWrong(field: Locator, text: string, said: string): Promise<void> {
  await soon(() => field.getAttribute('aria-invalid')).toBe('true');
  expect(await saidOf(field)).toContain(said);
  expect(await field.inputValue()).toBe(text);
}

async function expectRight(field: Locator, text: string): Promise<void> {
  await soon(() => field.getAttribute('aria-invalid')).toBe('false');
  expect(await field.inputValue()).toBe(text);
}

/** The unit stands at the right in the box of its field. */
async function expectInItsBox(field: Locator, unit: string): Promise<void> {
  const suffix = field.locator('xpath=following-sibling::span');
  expect(await suffix.textContent()).toBe(unit);
  const [outer, inner] = [(await field.boundingBox())!, (await suffix.boundingBox())!];
  expect(inner.x).toBeGreaterThan(outer.x + outer.width / 2);
  expect(inner.x + inner.width).toBeLessThan(outer.x + outer.width);
  expect(inner.y).toBeGreaterThan(outer.y);
  expect(inner.y + inner.height).toBeLessThan(outer.y + outer.height);
}
