import { createRequire } from 'node:module';
import { describe, expect, it } from 'vitest';
import { readDrawingText } from '../../src/drawing/read.ts';
import { cutterDxf } from '../../src/program/cutter-dxf.ts';
import { cuttingOrder } from '../../src/knife/order.ts';
import { longBay } from '../knife/sample-parts.ts';
import { goodLay, parts } from './good-run.ts';

/** What is used of dxf-parser, whose types describe another kind of module than it is. */
const DxfParser = createRequire(import.meta.url)('dxf-parser') as new () => {
  parseSync(text: string): {
    readonly header: Readonly<Record<string, unknown>>;
    readonly entities: readonly { readonly layer: string }[];
  };
};

const lay = goodLay(longBay);
const text = cutterDxf(lay, parts, longBay, cuttingOrder(lay, parts, longBay));

describe('the drawing for the cutter', () => {
  it('has each part’s label and marks, then its notches, inner contours and outline', () => {
    const { entities } = readDrawingText(text, 'loop.dxf', { setUnits: 'mm' });
    const mat = ['LABEL', 'MARK', 'MARK', 'NOTCH', 'NOTCH', 'CUT-INNER', 'CUT-INNER', 'CUT'];
    const order = [['LABEL', 'CUT'], mat, ['LABEL', 'CUT'], ['LABEL', 'NOTCH', 'CUT']];
    expect(entities.map(({ layer }) => layer)).toEqual(order.flat());
  });

  // A reader that is not ours.
  it('is read alike by another reader', () => {
    const drawing = new DxfParser().parseSync(text);
    const on = (layer: string): number => drawing.entities.filter((e) => e.layer === layer).length;
    expect([on('CUT'), on('CUT-INNER'), on('NOTCH'), on('MARK'), on('LABEL')]).toEqual([
      4, 2, 3, 2, 4,
    ]);
    expect(drawing.header['$ACADVER']).toBe('AC1009');
  });
});
