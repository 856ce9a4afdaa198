import { existsSync, readFileSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import type { ExpectStatic } from 'vitest';
import { afterAll, beforeAll, describe, it } from 'vitest';
import { hasErrors, wordFinding } from '../../../src/base/findings.ts';
import type { Entity } from '../../../src/drawing/drawing.ts';
import { readDrawing } from '../../../src/drawing/read.ts';
import { checkSet } from '../../../src/jobs/check.ts';
import { pileway } from '../../cli/pileway.ts';
import { isSearch } from '../../support/thorough.ts';
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
/** Every fourth one in the gate; all of them in a search for faults. */
const sound = files
  .filter(({ layers }) => layers !== undefined)
  .filter((_, i) => isSearch || i % 4 === 0);
const broken = files.filter(({ layers }) => layers === undefined);

/** In it the layers are numbers, and a text says the units. */
const numberedFile = 'astm-layers-mm.dxf';

/** What the numbers of its layers stand for, as the manifest tells. */
const numbered: Readonly<Record<string, string>> = { '1': 'OUTLINE', '11': 'CUTOUT' };

/** The layers of what the manifest counts in it. */
const counted = {
  notches: 'NOTCH',
  drill_holes: 'HOLE',
  grain_lines: 'PILE',
  internal_lines: 'MARK',
} as const;

/** Whoever only agrees presses no more often than this from the first question to the last. */
const mostPresses = 12;

function give(page: Page, file: string): Promise<void> {
  return page.locator('input[type="file"]').setInputFiles(join(folder, file));
}

/** Says what must be said of a drawing before it is a set. */
async function sayOfDrawing(page: Page, { file, units }: Sample): Promise<void> {
  if (file === numberedFile)
    await page.getByRole('button', { name: 'All 6 are what they look like' }).click();
  else if (units === 'unstated')
    await page.getByRole('radio', { name: /it is drawn in millimetres/ }).check();
  // Said here, it is not asked again.
  await page.getByRole('radio', { name: 'RHD, driver right' }).check();
}

function isNamed(words: string, naming: readonly string[]): boolean {
  return naming.some((word) => words.toLowerCase().includes(word.toLowerCase()));
}

/** Everything in the drawing of a set: on its pieces, and what was left out. */
function drawnIn(
  set: string,
  file: string,
): { readonly onPieces: readonly Entity[]; readonly texts: readonly string[] } {
  const { blocks } = readDrawing(join(set, file));
  return {
    onPieces: blocks.flatMap(({ name, entities }) => (name === 'LEFT-OUT' ? [] : entities)),
    texts: blocks.flatMap(({ entities }) =>
      entities.flatMap((one) => (one.kind === 'text' ? one.text.split('\n') : [])),
    ),
  };
}

/** Holds what is drawn against the figures of the manifest. */
function expectFigures(expect: ExpectStatic, drawn: readonly Entity[], sample: Sample): void {
  const on = (layer: string) => drawn.filter((one) => one.layer === layer);
  for (const [layer, { closed, area }] of Object.entries(sample.layers!)) {
    const areas = on(numbered[layer] ?? layer).flatMap((one) =>
      one.kind === 'path' && one.path.closed ? [areaByPoints(one.path)] : [],
    );
    expect(areas.length, layer).toBe(closed);
    const sum = areas.reduce((total, one) => total + one, 0);
    expect(Math.abs(sum / area - 1), layer).toBeLessThanOrEqual(tolerances.area_rel);
  }
  for (const key of Object.keys(counted) as (keyof typeof counted)[])
    if (sample[key] !== undefined) expect(on(counted[key]), key).toHaveLength(sample[key]);
}

describe.skipIf(chromiumHere.missing)(
  `sample drawings, from the page to a set${chromiumHere.note}`,
  () => {
    let bench: Bench;
    beforeAll(async () => {
      bench = await openBench(wren);
    }, 90_000);
    afterAll(() => bench?.close());
    const setFolder = (file: string): string =>
      join(bench.root, 'patterns', file.replace('.dxf', ''));

    it.concurrent.for(sound)('$file becomes a set that checks clean', async (sample, context) => {
      const { expect } = context;
      const { file, naming, texts = [], pieces } = sample;
      const window = await bench.open('#/sets', { viewport: { width: 1100, height: 700 } });
      const { page } = window;
      await give(page, file);
      await page.locator('.begin-now').waitFor();
      if (naming !== undefined) {
        const told = await page.locator('.sight-tray .findings').allTextContents();
        expect(isNamed(told.join(' '), naming), told.join(' ')).toBe(true);
      }
      await sayOfDrawing(page, sample);
      await page.getByRole('button', { name: 'Begin the set' }).click();
      await page.getByText(/\d+ questions? left/).waitFor();
      expect(await answerAll(page)).toBeLessThanOrEqual(mostPresses);
      expect(window.complaints).toEqual([]);
      await page.context().close();

      const set = setFolder(file);
      const { patterns, findings } = checkSet(set, join(bench.root, 'shared'));
      expect(hasErrors(findings), findings.map(wordFinding).join('\n')).toBe(false);
      const drawn = drawnIn(set, file);
      expectFigures(expect, drawn.onPieces, sample);
      for (const text of texts) expect(drawn.texts).toContain(text);
      if (pieces !== undefined)
        expect(Object.keys(patterns.content.pieces)).toEqual(
          pieces.map((name) => name.toLowerCase()),
        );
      // The drawing is kept as it came.
      const received = readFileSync(join(set, 'received', file));
      expect(received.equals(readFileSync(join(folder, file)))).toBe(true);
    });

    it.concurrent.for(broken)(
      '$file is refused in words, and leaves nothing',
      async (sample, context) => {
        const { expect } = context;
        const { page } = await bench.open('#/sets');
        await give(page, sample.file);
        const told = page.locator('.finding', { hasText: 'Stops' }).first();
        const words = (await told.textContent())!;
        expect(isNamed(words, sample.naming!), words).toBe(true);
        // What to do stands behind what is wrong, in words for the page and not for the command line.
        expect(words).toMatch(/export the drawing again|close it in the drawing/i);
        expect(words).not.toContain('--');
        const begin = page.getByRole('button', { name: 'Begin the set' });
        if ((await begin.count()) > 0) expect(await begin.isDisabled()).toBe(true);
        expect(existsSync(setFolder(sample.file))).toBe(false);
        await page.context().close();
      },
    );

    it('numbered layers of which nobody says anything are asked about in the set', async ({
      expect,
    }) => {
      const { page } = await bench.open('#/sets');
      await give(page, numberedFile);
      await page.getByLabel('Name of the set').fill('unsaid');
      await page.keyboard.press('Tab');
      await page.getByRole('button', { name: 'Begin the set' }).click();
      await page.getByText('Is each thing what its layer’s number says?').first().waitFor();
      await page.context().close();
      const check = await pileway(bench.main, bench.root, ['check', 'patterns/unsaid']);
      expect(check.code).toBe(1);
      expect(check.stderr).toContain('11 for CUTOUT');
    });

    it('no half-made folder is left of any of them', ({ expect }) => {
      const patterns = join(bench.root, 'patterns');
      const sets = readdirSync(patterns, { withFileTypes: true }).filter((one) =>
        one.isDirectory(),
      );
      const half = sets.filter(({ name }) => !existsSync(join(patterns, name, 'set.yaml')));
      expect(half).toEqual([]);
    });
  },
);
