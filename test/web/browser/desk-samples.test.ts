import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasErrors, wordFinding } from '../../../src/base/findings.ts';
import type { Entity } from '../../../src/drawing/drawing.ts';
import { readDrawing } from '../../../src/drawing/read.ts';
import { checkSet } from '../../../src/jobs/check.ts';
import { pileway } from '../../cli/pileway.ts';
import { wren } from '../../support/wren.ts';
import { answerAll, areaByPoints } from './answering.ts';
import type { Bench } from './browser.ts';
import { chromiumHere, openBench } from './browser.ts';

/** Drawings as other programs write them. Their manifest says what a right reader finds in each. */
const folder = join(import.meta.dirname, '../../data/drawings');

interface Sample {
  readonly file: string;
  readonly units: string;
  readonly layers?: Readonly<Record<string, { readonly closed: number; readonly area: number }>>;
  readonly naming?: readonly string[];
  readonly texts?: readonly string[];
  readonly pieces?: readonly string[];
  readonly notches?: number;
  readonly drill_holes?: number;
  readonly grain_lines?: number;
  readonly internal_lines?: number;
}

interface Manifest {
  readonly tolerances: { readonly area_rel: number };
  readonly files: readonly Sample[];
}

const { files, tolerances }: Manifest = JSON.parse(
  readFileSync(join(folder, 'manifest.json'), 'utf8'),
);
const sound = files.filter(({ layers }) => layers !== undefined);
const broken = files.filter(({ layers }) => layers === undefined);

/** What the numbers of layers stand for in ASTM D6673, as the manifest tells. */
const numbered: Readonly<Record<string, string>> = { '1': 'OUTLINE', '11': 'CUTOUT' };

/** Whoever only agrees presses no more often than this from the first question to the last. */
const mostPresses = 12;

describe.skipIf(chromiumHere.missing)(
  `sample drawings, from the page to a set${chromiumHere.note}`,
  () => {
    let bench: Bench;
    beforeAll(async () => {
      bench = await openBench(wren);
    }, 90_000);
    afterAll(() => bench?.close());

    const give = (page: Page, file: string): Promise<void> =>
      page.locator('input[type="file"]').setInputFiles(join(folder, file));
    const setFolder = (file: string): string =>
      join(bench.root, 'patterns', file.replace('.dxf', ''));

    it.concurrent.for(sound)(
      '$file becomes a set that checks clean',
      async (sample, { expect }) => {
        const { file, units, layers, naming, texts = [] } = sample;
        const window = await bench.open('#/sets', { viewport: { width: 1100, height: 700 } });
        const { page } = window;
        await give(page, file);
        if (units === 'unstated' && !(file in saysUnits))
          await page.getByRole('radio', { name: /it is drawn in millimetres/ }).check();
        await page.locator('.begin-now').waitFor();
        if (naming !== undefined) {
          const told = (await page.locator('.sight-tray .findings').allTextContents()).join(' ');
          expect(naming.some((word) => told.toLowerCase().includes(word.toLowerCase()))).toBe(true);
        }
        const offered = page.getByRole('button', { name: 'All 6 are what they look like' });
        if (file in saysUnits) await offered.click();
        // Said here, it is not asked again.
        await page.getByRole('radio', { name: 'RHD, driver right' }).check();
        await page.getByRole('button', { name: 'Begin the set' }).click();
        await page.getByText(/\d+ questions? left/).waitFor();
        expect(await answerAll(page)).toBeLessThanOrEqual(mostPresses);
        expect(window.complaints).toEqual([]);
        await page.context().close();

        const { patterns, findings } = checkSet(setFolder(file), join(bench.root, 'shared'));
        expect(hasErrors(findings), findings.map(wordFinding).join('\n')).toBe(false);
        const drawn = readDrawing(join(setFolder(file), file)).blocks.filter(
          ({ name }) => name !== 'LEFT-OUT',
        );
        const all = drawn.flatMap(({ entities }) => entities);
        for (const [layer, { closed, area }] of Object.entries(layers!)) {
          const paths = all.flatMap((one) =>
            one.layer === (numbered[layer] ?? layer) && one.kind === 'path' && one.path.closed
              ? [one.path]
              : [],
          );
          expect(paths.length, layer).toBe(closed);
          const sum = paths.reduce((total, path) => total + areaByPoints(path), 0);
          expect(Math.abs(sum / area - 1), layer).toBeLessThanOrEqual(tolerances.area_rel);
        }
        const counts = countsOf(all);
        for (const [key, layer] of Object.entries(countedLayers)) {
          const count = sample[key as keyof typeof countedLayers];
          if (count !== undefined) expect(counts.get(layer), layer).toBe(count);
        }
        if (sample.pieces !== undefined) {
          const names = Object.keys(patterns.content.pieces);
          expect(names).toEqual(sample.pieces.map((name) => name.toLowerCase()));
        }
        const received = readFileSync(join(setFolder(file), 'received', file));
        expect(received.equals(readFileSync(join(folder, file)))).toBe(true);
        const words = readDrawing(join(setFolder(file), file)).blocks.flatMap(({ entities }) =>
          entities.flatMap((one) => (one.kind === 'text' ? one.text.split('\n') : [])),
        );
        for (const text of texts) expect(words).toContain(text);
      },
    );

    it.concurrent.for(broken)(
      '$file is refused in words, and leaves nothing',
      async (sample, { expect }) => {
        const { file, naming } = sample;
        const { page } = await bench.open('#/sets');
        await give(page, file);
        const told = page.locator('.finding.error, .finding', { hasText: 'Stops' }).first();
        const words = (await told.textContent())!.toLowerCase();
        expect(
          naming!.some((word) => words.includes(word.toLowerCase())),
          words,
        ).toBe(true);
        // What to do stands behind what is wrong.
        expect(words).toMatch(/export the drawing again|close it in the drawing/);
        expect(words).not.toContain('--');
        const begin = page.getByRole('button', { name: 'Begin the set' });
        if ((await begin.count()) > 0) expect(await begin.isDisabled()).toBe(true);
        expect(existsSync(setFolder(file))).toBe(false);
        await page.context().close();
      },
    );

    it('numbered layers of which nobody says anything are asked about in the set', async () => {
      const { page } = await bench.open('#/sets');
      await give(page, 'astm-layers-mm.dxf');
      await page.getByLabel('Name of the set').fill('unsaid');
      await page.keyboard.press('Tab');
      await page.getByRole('button', { name: 'Begin the set' }).click();
      await page.getByText('Is each thing what its layer’s number says?').first().waitFor();
      const check = await pileway(bench.main, bench.root, ['check', 'patterns/unsaid']);
      expect(check.code).toBe(1);
      expect(check.stderr).toContain('11 for CUTOUT');
      await page.context().close();
    });

    it('no half-made folder is left of any of them', () => {
      const made = readdirSync(join(bench.root, 'patterns'), { withFileTypes: true });
      const sets = made.filter((one) => one.isDirectory()).map(({ name }) => name);
      const whole = sets.filter((name) =>
        existsSync(join(bench.root, 'patterns', name, 'set.yaml')),
      );
      expect(sets).toEqual(whole);
    });
  },
);

/** The drawing in which a text says the units, and the layers are numbers. */
const saysUnits: Readonly<Record<string, true>> = { 'astm-layers-mm.dxf': true };

const countedLayers = {
  notches: 'NOTCH',
  drill_holes: 'HOLE',
  grain_lines: 'PILE',
  internal_lines: 'MARK',
} as const;

function countsOf(all: readonly Entity[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const { layer } of all) counts.set(layer, (counts.get(layer) ?? 0) + 1);
  return counts;
}
