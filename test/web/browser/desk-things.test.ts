import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hole, line, on, outline } from '../../../patterns/fenlark/pen.ts';
import { pathOfEntity } from '../../../src/drawing/entity-of.ts';
import { readDrawing } from '../../../src/drawing/read.ts';
import { boxOfPath } from '../../../src/geometry/paths/path.ts';
import { deriveParts } from '../../../src/handing/derive.ts';
import { orderSchema } from '../../../src/handing/order.ts';
import { readMaterials } from '../../../src/pattern/shop/material.ts';
import { readSet } from '../../../src/pattern/set.ts';
import type { Files } from '../../support/wren.ts';
import { drawingFile, drawingText, setFile, wren } from '../../support/wren.ts';
import type { Bench } from './browser.ts';
import { chromiumHere, expectNoComplaints, openBench, soon } from './browser.ts';

/** A tunnel as a customer draws it, all on layer 0: two holes, two notches, and the line in its middle. */
const customer: Files = {
  ...wren,
  [setFile]: `title: Tunnel of a customer
drawn: RHD
units: mm
drawing: wren.dxf
pile: rearward
at: [0, 0]
pieces:
  tunnel: { side: centre, material: loop, edge: raw, covered: the trim }
`,
  [drawingFile]: drawingText([
    {
      name: 'TUNNEL',
      entities: [
        ...on('OUTLINE', outline([100, 0], [500, 0], [440, 600], [160, 600])),
        ...on('0', hole(200, 100, 12), hole(420, 100, 12)),
        ...on('0', line([250, 0], [250, 6]), line([350, 0], [350, 6])),
        ...on('0', line([300, -30], [300, 630])),
      ],
    },
  ]),
};

describe.skipIf(chromiumHere.missing)(`things at the desk${chromiumHere.note}`, () => {
  let bench: Bench;
  const things = () =>
    readDrawing(join(bench.root, drawingFile), { setUnits: 'mm' }).blocks.find(
      ({ name }) => name === 'TUNNEL',
    )!.entities;
  const layers = (): string[] => things().map(({ layer }) => layer);
  beforeAll(async () => {
    bench = await openBench(customer);
  }, 90_000);
  afterAll(() => bench?.close());

  it('are answered group by group by what they look like, and the desk goes on by itself', async () => {
    const window = await bench.open('#/sets/wren/tunnel');
    const { page } = window;
    await page.getByRole('button', { name: 'Next' }).click();
    await page.getByRole('heading', { name: '2 things chosen' }).waitFor();
    await page.getByRole('button', { name: /^Hole, or a drill mark a closed line inside/ }).click();
    await soon(layers).toEqual(['OUTLINE', 'HOLE', 'HOLE', '0', '0', '0']);
    await page.getByRole('button', { name: /^Notch .*6 mm long/ }).click();
    await soon(layers).toEqual(['OUTLINE', 'HOLE', 'HOLE', 'NOTCH', 'NOTCH', '0']);
    await page.getByRole('button', { name: /^Vehicle’s centreline a straight line/ }).click();
    await soon(layers).toEqual(['OUTLINE', 'HOLE', 'HOLE', 'NOTCH', 'NOTCH', 'AXIS']);
    expectNoComplaints(window);
    await page.context().close();
  });

  it('go with the driver: seen for the other hand first, and cut there', async () => {
    const window = await bench.open('#/sets/wren/tunnel');
    const { page } = window;
    await page.getByRole('button', { name: /^hole/ }).last().click();
    const lhd = page.locator('.goes-with figure', { hasText: 'LHD' });
    await lhd.getByText('120 mm right of the centreline').waitFor();
    await page.locator('.goes-with label', { hasText: 'the driver' }).hover();
    await lhd.getByText('120 mm left of the centreline').waitFor();
    expect(layers()).not.toContain('HOLE-DRIVER');
    await page.getByRole('radio', { name: 'the driver', exact: true }).click();
    await soon(layers).toContain('HOLE-DRIVER');
    const shared = join(bench.root, 'shared');
    const patterns = readSet(join(bench.root, 'patterns/wren'), shared);
    const materials = readMaterials(patterns.materials, shared);
    const order = orderSchema.parse({ order: 'A', set: 'wren', hand: 'LHD' });
    const [part] = deriveParts(patterns, order, materials).parts;
    // In the vehicle the middle of the tunnel is x = 0: 100 and 120 beside it as drawn, both left in LHD.
    const xs = part!.inner.map(({ path }) => Math.round(boxOfPath(path).minX + 12));
    expect(xs.toSorted((a, b) => a - b)).toEqual([-120, -100]);
    expectNoComplaints(window);
    await page.context().close();
  });

  it('are added by pointing, where a notch finds the outline, and by figures', async () => {
    const window = await bench.open('#/sets/wren/tunnel');
    const { page } = window;
    await page.getByText('Add', { exact: true }).click();
    await page.getByLabel('What', { exact: true }).selectOption('notch');
    await page.getByRole('button', { name: 'Place it in the picture' }).click();
    const body = (await page.locator('.canvas path.body').boundingBox())!;
    // Some pixels inside of the rear edge, y = 0.
    await page.mouse.click(body.x + body.width * 0.7, body.y + body.height - 6);
    await soon(() => layers().length).toBe(7);
    const notch = things().at(-1)!;
    expect(notch).toMatchObject({ kind: 'point', layer: 'NOTCH' });
    expect(pathOfEntity(notch).vertices[0]!.y).toBeCloseTo(0, 2);
    await page.getByLabel('What', { exact: true }).selectOption('oblong');
    await page.getByRole('button', { name: 'Place it there' }).click();
    await soon(() => layers().length).toBe(8);
    // 100 from the left and the rear of the outline; 120 by 80.
    const { minX, minY, maxX, maxY } = boxOfPath(pathOfEntity(things().at(-1)!));
    expect([minX, minY, maxX, maxY].map(Math.round)).toEqual([140, 60, 260, 140]);
    expectNoComplaints(window);
    await page.context().close();
  });

  it('are dragged, with Shift in one direction alone', async () => {
    const window = await bench.open('#/sets/wren/tunnel');
    const { page } = window;
    const middle = () => {
      const { minX, minY } = boxOfPath(pathOfEntity(things()[2]!));
      return { x: minX + 12, y: minY + 12 };
    };
    const before = middle();
    await page.getByRole('button', { name: /^hole.*driver/ }).click();
    const picked = page.locator('.canvas g.thing.picked');
    const box = (await picked.boundingBox())!;
    const [x, y] = [box.x + box.width / 2, box.y + 2];
    await page.keyboard.down('Shift');
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x + 60, y - 25, { steps: 5 });
    await page.mouse.up();
    await page.keyboard.up('Shift');
    await soon(() => middle().x - before.x).toBeGreaterThan(20);
    expect(middle().y).toBeCloseTo(before.y, 3);
    expectNoComplaints(window);
    await page.context().close();
  });
});
