import { writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { runsNaming } from '../../src/drafting/runs-naming.ts';
import { inFolder, runFile, setFile, wren } from '../support/wren.ts';
import { openTestDraft } from './drafting.ts';

const week = `title: Wren, some of it
cutter: long-bay
orders:
  - { order: A1, set: wren, hand: RHD, alone: [mat-left, dash] } # the dog ate it
  - { order: A2, set: wren, hand: LHD, without: [mat-pad, rest] }
  - { order: A3, set: wren, hand: LHD, alone: [mats] }
  - { order: B1, set: robin, hand: LHD, alone: [mat] }
rolls:
  loop:
    pins: [{ part: mat-right.1.A1, at: [100, 100] }, { part: mat-right.1.B1, at: [100, 100] }]
    laid: [{ part: mat-left.1.A1, at: [0, 0] }, { part: dash.1.A1, at: [0, 0] }]
`;

const files = {
  ...wren,
  [runFile]: week,
  'patterns/orders.yaml': `title: From a table\ncutter: long-bay\norders: orders.csv\n`,
  'patterns/orders.csv': 'order;set;hand;alone\nC1;wren;RHD;floor mat-left-2\n',
  'patterns/other.yaml':
    'title: Of nothing\ncutter: long-bay\norders: []\nrolls: { material: 1 }\n',
  'patterns/broken.yaml': 'title: [of the mat\n',
  [setFile]: `${String(wren[setFile])}groups: { mats: [mat-left, mat], more: [mat, dash] }\n`,
};

describe('runs that speak of a piece', () => {
  it('are named with each order, pin and lay, in tables too, and no others are', async () => {
    await inFolder(files, (root) => {
      const { draft } = openTestDraft(root).kept();
      expect(runsNaming(draft, 'mat')).toEqual([
        { run: 'broken', places: [expect.stringContaining('cannot be read')] },
        { run: 'orders', places: ['order C1, under alone: mat-left-2'] },
        {
          run: 'wren-week',
          places: [
            'order A1, under alone: mat-left',
            'order A2, under without: mat-pad',
            'order A3, under alone: mats',
            'a pin: mat-right.1.A1',
            'its lay: 1 part',
          ],
        },
      ]);
      expect(runsNaming(draft, 'cover')).toEqual([]);
    });
  });

  it('are not those that speak of another piece whose name begins alike', async () => {
    await inFolder(files, (root) => {
      writeFileSync(
        join(root, 'patterns/wren/set.yaml'),
        String(files[setFile]).replace(
          '  rest:',
          '  mat-left: { side: left, material: loop, block: COVER }\n  rest:',
        ),
      );
      const { draft } = openTestDraft(root).kept();
      const places = runsNaming(draft, 'mat').find(({ run }) => run === 'wren-week')!.places;
      expect(places).not.toContain('order A1, under alone: mat-left');
      expect(places).toContain('a pin: mat-right.1.A1');
    });
  });
});
