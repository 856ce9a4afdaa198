import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readDrawing } from '../../../src/drawing/read.ts';
import { boxOfPath } from '../../../src/geometry/paths/path.ts';
import { pileway } from '../../cli/pileway.ts';
import { blocksInInches, looseLines, oneLayer } from '../../support/customers.ts';
import { wren } from '../../support/wren.ts';
import { answerAll, areaByPoints } from './answering.ts';
import { isSearch } from '../../support/thorough.ts';
import type { Bench } from './browser.ts';
import { chromiumHere, expectNoComplaints, openBench } from './browser.ts';

/** What somebody who measures a drawing by hand finds of a part. */
interface Measured {
  /** mm2, to a thousandth. */
  readonly area: number;
  readonly holes: number;
  readonly notches: number;
}

interface Customer {
  readonly name: string;
  readonly drawing: string;
  /** The size by which the units are answered; null: the drawing says them. */
  readonly size: RegExp | null;
  readonly parts: Readonly<Record<string, Measured>>;
  /** No more presses than these take it from the file to a set that can be cut. */
  readonly presses: number;
}

const square = 25.4 * 25.4;
const floor = {
  // A polygon by its corners (shoelace, worked out by hand) and a quarter circle less the corner it rounds.
  area: 560 * 720 - (40 * 180) / 2 - (60 * 80) / 2 - (80 * 80 - (Math.PI * 80 * 80) / 4),
  holes: 2,
  notches: 2,
};
const kick = { area: (250 * (380 + 300)) / 2, holes: 1, notches: 0 };
const step = { area: 12 * 4 * square, holes: 0, notches: 0 };

const customers: readonly Customer[] = [
  {
    name: 'loose',
    drawing: looseLines,
    size: /^720 mm/,
    parts: {
      'floor-left': floor,
      'floor-right': floor,
      tunnel: { area: ((300 + 220) / 2) * 600, holes: 0, notches: 0 },
    },
    presses: 22,
  },
  {
    name: 'layer',
    drawing: oneLayer,
    size: null,
    parts: {
      'cab-mat': {
        area: 1200 * 500 + ((1200 + 1040) / 2) * 120,
        holes: 2,
        notches: 2,
      },
      'kick-panel-left': kick,
      'kick-panel-right': kick,
    },
    presses: 22,
  },
  {
    name: 'inches',
    drawing: blocksInInches,
    size: null,
    parts: {
      'boot-floor': { area: (28 * 24 - 4 * 4) * square, holes: 1, notches: 1 },
      'step-left': step,
      'step-right': step,
    },
    presses: 22,
  },
];

describe.skipIf(chromiumHere.missing)(
  `a customer’s drawing, from the page to the cutter${chromiumHere.note}`,
  () => {
    let bench: Bench;
    beforeAll(async () => {
      bench = await openBench(wren);
    }, 90_000);
    afterAll(() => bench?.close());

    // In inches is the same way once more: everyday work leaves it to a search.
    it.each(customers.filter(({ name }) => isSearch || name !== 'inches'))(
      '$name: without CAD and without an editor',
      async (customer) => {
        const { name, drawing, size, parts, presses } = customer;
        const window = await bench.open('#/sets');
        const { page } = window;
        await page.locator('input[type="file"]').setInputFiles({
          name: `${name}.dxf`,
          mimeType: 'application/octet-stream',
          buffer: Buffer.from(drawing),
        });
        if (size !== null) await page.getByRole('radio', { name: size }).check();
        await page.getByRole('button', { name: 'Begin the set' }).click();
        await page.getByText(/\d+ questions left/).waitFor();
        expect(await answerAll(page)).toBeLessThanOrEqual(presses);
        expectNoComplaints(window);
        await page.context().close();

        // The drawing is kept as it came.
        const folder = join(bench.root, 'patterns', name);
        expect(readFileSync(join(folder, `received/${name}.dxf`), 'utf8')).toBe(drawing);
        // The other hand, drawn part by part: edges are bound, so that nothing is added to the outlines.
        const derived = await pileway(bench.main, bench.root, [
          'derive',
          `patterns/${name}`,
          '--hand',
          'LHD',
          '--out',
          `out/${name}-LHD`,
        ]);
        expect(derived.code, derived.stderr).toBe(0);
        const files = readdirSync(join(bench.root, `out/${name}-LHD/parts`));
        expect(files.sort()).toEqual(
          Object.keys(parts)
            .map((part) => `${part}.dxf`)
            .sort(),
        );
        for (const [part, { area, holes, notches }] of Object.entries(parts)) {
          const { entities } = readDrawing(join(bench.root, `out/${name}-LHD/parts/${part}.dxf`));
          const on = (layer: string) =>
            entities.flatMap((one) =>
              one.layer === layer && one.kind === 'path' ? [one.path] : [],
            );
          const [contour] = on('OUTLINE');
          expect(areaByPoints(contour!), part).toBeCloseTo(area, -1);
          expect(on('HOLE'), part).toHaveLength(holes);
          expect(on('NOTCH'), part).toHaveLength(notches);
          // A pair lies on both sides, and no side twice.
          const { minX, maxX } = boxOfPath(contour!);
          if (part.endsWith('-left') && size !== null)
            expect(maxX, part).toBeLessThanOrEqual(0.001);
          if (part.endsWith('-right') && size !== null)
            expect(minX, part).toBeGreaterThanOrEqual(-0.001);
        }
        writeFileSync(
          join(bench.root, `patterns/${name}-run.yaml`),
          `title: ${name}\ncutter: long-bay\neffort: 1\norders:\n  - { order: A1, set: ${name}, hand: LHD }\n`,
        );
        const cut = await pileway(bench.main, bench.root, ['cut', `patterns/${name}-run.yaml`]);
        expect(cut.code, cut.stderr).toBe(0);
        expect(cut.stdout + cut.stderr).toContain('passed');
      },
    );
  },
);
