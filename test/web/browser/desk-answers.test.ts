import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { box, hole, line, on, outline } from '../../../patterns/fenlark/pen.ts';
import { textEntity } from '../../../src/drawing/entity-of.ts';
import { readDrawing } from '../../../src/drawing/read.ts';
import type { Files } from '../../support/wren.ts';
import { drawingFile, drawingText, runFile, setFile, wren } from '../../support/wren.ts';
import type { Bench } from './browser.ts';
import { chromiumHere, expectNoComplaints, openBench, soon } from './browser.ts';
import { placeOf, pointAt } from './desk-picture.ts';
import { looksWrong } from './looks.ts';

/** A tray with a hole, a cutout and a text close to its rear edge; and a lid of which the right half is drawn. */
const customer: Files = {
  ...wren,
  [runFile]: `title: A tray without its lid
cutter: long-bay
orders:
  - { order: A1, set: wren, hand: RHD, without: [lid] }
`,
  [setFile]: `title: Tray and lid
drawn: RHD
units: mm
drawing: wren.dxf
pile: rearward
at: [0, 0]
pieces:
  tray: { side: centre, material: loop }
  lid: { side: centre, material: loop, half: true }
  flap: { side: right, material: loop }
`,
  [drawingFile]: drawingText([
    {
      name: 'TRAY',
      entities: [
        ...on('OUTLINE', outline([-250, 0], [250, 0], [250, 400], [-250, 400])),
        ...on('AXIS', line([0, 0], [0, 400])),
        ...on('HOLE', hole(120, 200, 12)),
        ...on('CUTOUT', box(-180, 150, -80, 250)),
        textEntity('NOTE', 'to the rear of the van', { x: 30, y: 2 }, 12),
      ],
    },
    {
      name: 'FLAP',
      entities: on('OUTLINE', line([400, 0], [300, 0], [300, 200], [500, 200], [500, 0], [414, 0])),
    },
    {
      name: 'LID',
      entities: [
        ...on('OUTLINE', line([0, 600], [300, 600], [300, 900], [0, 900])),
        ...on('AXIS', line([0, 600], [0, 900])),
      ],
    },
  ]),
};

describe.skipIf(chromiumHere.missing)(`answers at the desk${chromiumHere.note}`, () => {
  let bench: Bench;
  beforeAll(async () => {
    bench = await openBench(customer);
  }, 90_000);
  afterAll(() => bench?.close());

  const layers = (): string[] =>
    readDrawing(join(bench.root, drawingFile), { setUnits: 'mm' })
      .blocks.find(({ name }) => name === 'TRAY')!
      .entities.map(({ layer }) => layer);
  const setText = (): string => readFileSync(join(bench.root, setFile), 'utf8');
  const pressed = (page: Page) =>
    page
      .getByRole('list', { name: 'Stretches round the piece' })
      .locator('.edge-entry[aria-pressed="true"]');

  it('say at once whom different things go with', async () => {
    const window = await bench.open('#/sets/wren/tray');
    const { page } = window;
    await page.getByRole('button', { name: /^hole/ }).click();
    await page.getByRole('button', { name: /^cutout/ }).click({ modifiers: ['Shift'] });
    await page
      .getByRole('button', { name: /to the rear of the van/ })
      .click({ modifiers: ['Shift'] });
    const whom = page.getByRole('group', { name: 'All 2 go with' });
    await page.getByText('1 thing of what is chosen can follow nobody').waitFor();
    await whom.getByRole('radio', { name: 'the driver', exact: true }).click();
    await soon(() => layers().filter((one) => !['OUTLINE', 'AXIS'].includes(one))).toEqual([
      'HOLE-DRIVER',
      'CUTOUT-DRIVER',
      'NOTE',
    ]);
    expect(await whom.getByRole('radio', { checked: true }).count()).toBe(1);
    expectNoComplaints(window);
    await page.context().close();
  });

  it('choose an edge close to a text, and the text by its letters', async () => {
    const window = await bench.open('#/sets/wren/tray');
    const { page } = window;
    // What is open is told below the picture: from then on it keeps its size.
    await page.getByText('questions left').waitFor();
    const text = (await page.locator('.drawn-text').boundingBox())!;
    const [, edge] = await placeOf(page, 0, [40, 0]);
    // The box of the text reaches over the edge.
    expect(text.y + text.height).toBeGreaterThan(edge);
    await page.mouse.click(text.x + 30, edge);
    await page.getByRole('heading', { name: /^edge \d+, 500 mm/ }).waitFor();
    await page.mouse.click(text.x + 30, text.y + text.height / 2 - 2);
    await page.locator('.drawn-text.picked').waitFor();
    expectNoComplaints(window);
    await page.context().close();
  });

  it('wait for what an edge is tucked under, or go on when that is passed', async () => {
    const window = await bench.open('#/sets/wren/tray');
    const { page } = window;
    const question = page.getByRole('region', { name: 'Asked now' });
    await question.filter({ hasText: 'What happens to its edge' }).waitFor();
    await question.getByRole('button', { name: 'Show where' }).click();
    await soon(() => pressed(page).count()).toBe(4);
    await pointAt(page, 0, [-200, 0]);
    const say = (kind: string) =>
      page
        .getByRole('group', { name: 'What happens to it?' })
        .getByRole('button', { name: kind })
        .click();
    await say('Tucked');
    const under = page.getByLabel('It goes under');
    await under.waitFor();
    // Long enough for the next stretches to be chosen, if they were.
    await page.waitForTimeout(1500);
    expect(await pressed(page).count()).toBe(1);
    await under.fill('the sill trim');
    await under.press('Enter');
    await soon(() => pressed(page).count()).toBe(3);
    expect(setText()).toContain('the sill trim');

    await pointAt(page, 0, [-200, 400]);
    await say('Left raw');
    await page.getByRole('button', { name: 'Not known yet: go on' }).click();
    await soon(() => pressed(page).count()).toBe(2);
    await say('Bound');
    await soon(() => page.url()).toMatch(/lid$/);
    expectNoComplaints(window);
    await page.context().close();
  });

  it('name the runs that speak of a piece before it is called otherwise', async () => {
    const window = await bench.open('#/sets/wren/lid');
    const { page } = window;
    const name = page.getByLabel('Name', { exact: true });
    await name.fill('cap');
    await name.press('Enter');
    const asked = page.getByRole('alertdialog');
    await asked.getByText('order A1, under without: lid').waitFor();
    await asked.getByRole('button', { name: 'No, leave it as it is' }).click();
    await soon(() => name.inputValue()).toBe('lid');
    expect(setText()).toContain('lid:');
    await name.fill('cap');
    await name.press('Enter');
    await asked.getByRole('button', { name: 'Yes, call it cap' }).click();
    await soon(() => page.url()).toMatch(/cap$/);
    expect(setText()).toContain('cap:');
    await page.getByRole('button', { name: 'Undo' }).click();
    await soon(setText).toContain('lid:');
    expectNoComplaints(window);
    await page.context().close();
  });

  it('close a gap in an outline with a straight line, where the question shows it', async () => {
    const window = await bench.open('#/sets/wren/flap');
    const { page } = window;
    const question = page.getByRole('region', { name: 'Asked now' });
    await question.filter({ hasText: 'a gap of 14 mm' }).waitFor();
    await question.getByRole('button', { name: 'Show where' }).click();
    await page.locator('.asked-ring').waitFor();
    const shown = (await page.locator('.gap-line').boundingBox())!;
    const [x, y] = await placeOf(page, 0, [407, 0]);
    expect(shown.x + shown.width / 2).toBeCloseTo(x, 0);
    expect(shown.y + shown.height / 2).toBeCloseTo(y, 0);
    await question.getByRole('button', { name: 'Close it with a straight line, 14 mm' }).click();
    await page
      .getByRole('list', { name: 'Stretches round the piece' })
      .getByRole('button', { name: /200 mm/ })
      .first()
      .waitFor();
    expectNoComplaints(window);
    await page.context().close();
  });

  it('say on the plan what a piece lies on, and how much of it', async () => {
    const window = await bench.open('#/sets/wren');
    const { page } = window;
    await page.getByLabel('The piece to be placed').selectOption('lid');
    await page.locator('.plan-piece.picked').waitFor();
    expect(await page.locator('.overlap').count()).toBe(0);
    const forward = page.getByLabel('Forward', { exact: true });
    await forward.fill('-300');
    await forward.press('Enter');
    await page.getByText('tray, about 500 by 100 mm').waitFor();
    expect(await page.locator('.overlap-name').textContent()).toBe('on tray');
    await page.getByRole('button', { name: 'Undo' }).click();
    await soon(() => page.locator('.overlap').count()).toBe(0);
    expectNoComplaints(window);
    await page.context().close();
  });

  it.each([
    [800, 700],
    [1024, 700],
  ])('are given in a window of %i by %i, where nothing is cut off', async (width, height) => {
    const window = await bench.open('#/sets/wren/tray', { viewport: { width, height } });
    const { page } = window;
    await page.getByText(/questions? left/).waitFor();
    for (const part of ['.canvas', '.drafting-panel', '.question-bar', '.piece-list a >> nth=1']) {
      const place = (await page.locator(part).first().boundingBox())!;
      expect([place.x, place.y].every((at) => at >= 0)).toBe(true);
      expect(place.x + place.width).toBeLessThanOrEqual(width);
      expect(place.y + place.height).toBeLessThanOrEqual(height);
    }
    const canvas = (await page.locator('.canvas').boundingBox())!;
    expect(canvas.width).toBeGreaterThan(400);
    expect(canvas.height).toBeGreaterThan(250);
    await page.getByRole('button', { name: 'Next' }).click();
    await page.getByRole('group', { name: 'What happens to it?' }).waitFor();
    expect(await looksWrong(page)).toEqual([]);
    expectNoComplaints(window);
    await page.context().close();
  });

  it('light both halves of a piece of which one is drawn', async () => {
    const window = await bench.open('#/sets/wren/lid');
    const { page } = window;
    await pointAt(page, 0, [300, 700]);
    await page.getByText('both halves are told alike').waitFor();
    const lit = await page.locator('.other-side path').boundingBox();
    const [x, y] = await placeOf(page, 0, [-300, 750]);
    // The half that is not drawn is in the picture, too.
    expect(x).toBeGreaterThan((await page.locator('.canvas').boundingBox())!.x);
    expect(lit!.x + lit!.width / 2).toBeCloseTo(x, 0);
    expect(lit!.y + lit!.height / 2).toBeCloseTo(y, 0);
    expectNoComplaints(window);
    await page.context().close();
  });

  it('say another material for all pieces that ask', async () => {
    const asked = setText().replaceAll(
      'material: loop',
      'material: loop, open: { material: nobody said }',
    );
    writeFileSync(join(bench.root, setFile), asked);
    const window = await bench.open('#/sets/wren/tray');
    const { page } = window;
    await page.getByText('Is it cut from loop?').click();
    const card = page.getByRole('region', { name: 'Asked now' });
    await card.getByLabel('Cut from').selectOption('rubber');
    expect(setText()).toBe(asked);
    await card.getByRole('button', { name: 'Yes, for all 3 that ask it' }).click();
    await soon(() => setText().match(/material: rubber/g)?.length).toBe(3);
    expect(setText()).not.toContain('nobody said');
    expectNoComplaints(window);
    await page.context().close();
  });
});
