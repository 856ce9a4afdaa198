import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { describeDrawing } from '../../src/pattern/first-look/describe.ts';
import type { SetContent } from '../../src/pattern/set-file.ts';
import { readSet } from '../../src/pattern/set.ts';
import { readDrawingText } from '../drawing/read-text.ts';
import type { Tag } from '../drawing/dxf.ts';
import { block, dxf, inMm, insert, line } from '../drawing/dxf.ts';
import { imported, rectangle } from '../support/imported.ts';

/** A floor of 600 x 500; the late one is 560 x 540, and its hole lies where the early one has no cloth. */
const floor: readonly Tag[][] = [
  rectangle(-300, 0, 600, 500, 'OUTLINE-WITHOUT-LATE'),
  rectangle(-280, 0, 560, 540, 'OUTLINE-WITH-LATE'),
  rectangle(-20, 515, 20, 10, 'CUTOUT-WITH-LATE'),
  rectangle(-100, 100, 20, 20, 'HOLE-WITHOUT-CONSOLE-LONG-WITH-LATE'),
  rectangle(100, 100, 20, 20, 'CUTOUT-PASSENGER'),
  line(50, 300, 50, 200, 'PILE'),
  line(0, 0, 0, 500, 'AXIS'),
];

const ways: [how: string, words: string][] = [
  ['loose', dxf({ header: inMm, entities: floor })],
  [
    'in a block',
    dxf({ header: inMm, blocks: [block('FLOOR', floor)], entities: [insert('FLOOR', 0, 0)] }),
  ],
];

describe.each(ways)('shapes that go with options, drawn %s', (_, words) => {
  it('are one piece for who reads the drawing, each under its layer', () => {
    const { report } = describeDrawing(readDrawingText(words, 'customer.dxf', {}), new Map(), {
      gap: 0.05,
    });
    const [piece, ...more] = report.pieces;
    expect(more).toEqual([]);
    expect(report.findings.filter(({ severity }) => severity !== 'note')).toEqual([]);
    expect(piece!.outline.area).toBeCloseTo(600 * 500, 6);
    expect(piece!.features).toEqual({ 'OUTLINE-WITH-LATE': 1, PILE: 1, AXIS: 1 });
    expect(piece!.inner).toHaveLength(3);
    expect(piece!.layers).toContain('CUTOUT-WITH-LATE');
  });

  it('become one piece of a set, with options to be described', async () => {
    await imported(words, (_made, root) => {
      const folder = join(root, 'patterns/customer');
      const content = parse(readFileSync(join(folder, 'set.yaml'), 'utf8')) as SetContent;
      expect(content.options).toEqual({
        console: { words: 'console', values: ['none', 'long'], default: 'none' },
        late: { words: 'late', default: false },
      });
      expect(content.open).toHaveProperty('options');
      const drawnWith = (options: Record<string, boolean | string>) => {
        const { pieces, findings } = readSet(folder, join(root, 'shared'), { options });
        const told = findings.filter(({ severity, rule }) => {
          return severity === 'error' && rule !== 'open-question';
        });
        expect(told).toEqual([]);
        const [piece, ...more] = pieces;
        expect(more).toEqual([]);
        const height = Math.max(...piece!.outline.vertices.map(({ y }) => y));
        return [height, ...piece!.features.map(({ role, follows }) => `${role} ${follows}`).sort()];
      };
      expect(drawnWith({})).toEqual([500, 'CUTOUT PASSENGER']);
      expect(drawnWith({ late: true })).toEqual([
        540,
        'CUTOUT PASSENGER',
        'CUTOUT null',
        'HOLE null',
      ]);
      expect(drawnWith({ late: true, console: 'long' })).toEqual([
        540,
        'CUTOUT PASSENGER',
        'CUTOUT null',
      ]);
    });
  });
});

describe('outlines that do not exclude each other', () => {
  it('are two pieces, as they are without options', () => {
    const both = dxf({
      header: inMm,
      entities: [
        rectangle(0, 0, 600, 500, 'OUTLINE-WITH-LATE'),
        rectangle(100, 100, 200, 200, 'OUTLINE-WITH-CONSOLE-LONG'),
      ],
    });
    const { report } = describeDrawing(readDrawingText(both, 'customer.dxf', {}), new Map(), {
      gap: 0.05,
    });
    expect(report.pieces).toHaveLength(2);
    expect(report.findings.map(({ rule }) => rule)).toContain('outline-in-outline');
  });

  it('are two pieces where they lie apart', () => {
    const apart = dxf({
      header: inMm,
      entities: [
        rectangle(0, 0, 600, 500, 'OUTLINE-WITH-LATE'),
        rectangle(900, 0, 600, 500, 'OUTLINE-WITHOUT-LATE'),
      ],
    });
    const { report } = describeDrawing(readDrawingText(apart, 'customer.dxf', {}), new Map(), {
      gap: 0.05,
    });
    expect(report.pieces).toHaveLength(2);
  });
});

describe('a hole on a layer of the shop’s own', () => {
  it('keeps its suffix in the set that is made', async () => {
    const words = dxf({
      header: inMm,
      entities: [rectangle(0, 0, 600, 500, 'OUTLINE'), rectangle(100, 100, 20, 20, 'RED')],
    });
    await imported(
      words,
      (_made, root) => {
        const { pieces } = readSet(join(root, 'patterns/customer'), join(root, 'shared'));
        expect(pieces[0]!.features).toMatchObject([{ role: 'CUTOUT', follows: 'DRIVER' }]);
      },
      {},
      { 'shared/layers.yaml': 'RED: CUTOUT-DRIVER\n' },
    );
  });
});
