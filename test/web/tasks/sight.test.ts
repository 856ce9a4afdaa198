import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { Refusal } from '../../../src/base/findings.ts';
import type { DrawingSight, SightWish } from '../../../src/web/api/sight.ts';
import { sightOfDrawing } from '../../../src/web/tasks/sight.ts';
import type { Workshop } from '../../../src/web/workshop/workshop.ts';
import { workshopIn } from '../../../src/web/workshop/workshop.ts';
import type { Tag } from '../../drawing/dxf.ts';
import { block, dxf, inMm, line, text } from '../../drawing/dxf.ts';
import { customerDrawing } from '../../support/customer-drawing.ts';
import { rectangle } from '../../support/imported.ts';
import { openWorkshop, wren } from '../../support/wren.ts';

let shop: Workshop;
let close = (): void => {};
beforeAll(() => {
  const opened = openWorkshop(wren);
  shop = workshopIn(opened.root);
  close = opened.close;
});
afterAll(() => close());

function look(words: string | Uint8Array, wish: Partial<SightWish> = {}): DrawingSight {
  const drawing = typeof words === 'string' ? new TextEncoder().encode(words) : words;
  return sightOfDrawing({ shop, drawing, wish: { name: 'tourer.dxf', layers: [], ...wish } });
}

const of = (entities: readonly (readonly Tag[])[]): string => dxf({ header: inMm, entities });

function layer(sight: DrawingSight, name: string): DrawingSight['layers'][number] {
  return sight.layers.find((one) => one.name === name)!;
}

describe('units of a drawing that is looked at', () => {
  it('are asked where nothing says them, with the size that each would make, the likeliest first', () => {
    const { units } = look(customerDrawing());
    expect([units.are, units.asked]).toEqual(['mm', 'must']);
    // The mat is 1780 mm long, and drawn in inches.
    expect(units.sizes.map((one) => [one.units, one.largest![0]])).toEqual([
      ['in', 1780],
      ['mm', 70.1],
      ['cm', 700.8],
      ['m', 70_078.7],
    ]);
  });

  it('are no question once they are said, and all sizes are in them', () => {
    const { units, size, pieces } = look(customerDrawing(), { units: 'in' });
    expect([units.are, units.from, units.asked]).toEqual(['in', 'option', null]);
    expect(pieces.map(({ box: [x0, y0, x1, y1] }) => [x1 - x0, y1 - y0])).toEqual(
      expect.arrayContaining([
        [1780, 640],
        [900, 520],
      ]),
    );
    expect(size[0]).toBeCloseTo(2400, 1);
  });

  it('are doubtful where a piece would be larger than any carpet', () => {
    const { units } = look(of([rectangle(0, 0, 70_000, 900, 'OUTLINE')]));
    expect([units.asked, units.from]).toEqual(['doubtful', 'header']);
  });

  it('of metres are among the two likeliest', () => {
    const { units } = look(dxf({ entities: [rectangle(0, 0, 1.78, 0.64, 'OUTLINE')] }));
    expect(units.sizes.slice(0, 2).map((one) => one.units)).toContain('m');
  });
});

describe('layers of a drawing that is looked at', () => {
  it('are all there, each with what is on it', () => {
    const sight = look(customerDrawing(), { units: 'in' });
    const told = sight.layers.map(({ name, count, words }) => [name, count, words]);
    expect(told).toEqual([
      ['Schnittkante', 3, '3 closed lines'],
      ['Größe "B"', 3, '3 closed lines'],
      ['Knips', 9, '9 short lines'],
      ['Band', 3, '3 open lines'],
      ['0', 4, '4 texts'],
      ['Absatz', 1, '1 closed line'],
      ['Hilfslinie', 1, '1 open line'],
    ]);
    expect(sight.layers.every(({ means, from }) => means === null && from === null)).toBe(true);
    expect(layer(sight, 'Schnittkante').outlines).toBe(3);
    // One line from 2400, 200 to 2400, 700 where the lower left corner is 0, 0.
    expect(layer(sight, 'Hilfslinie').d).toBe('M2400 200L2400 700');
    expect(layer(sight, 'Größe "B"').d.match(/A/g)).toHaveLength(6);
  });

  it('mean what is answered, and the pieces are found anew', () => {
    const closed = [rectangle(0, 0, 600, 400, 'A'), rectangle(50, 50, 100, 100, 'B')];
    const before = look(of(closed));
    const after = look(of(closed), { layers: [['B', 'OUTLINE']] });
    const both = look(of(closed), {
      layers: [
        ['a', 'NOTE'],
        ['B', 'outline'],
      ],
    });
    expect([before, after, both].map(({ pieces }) => pieces.length)).toEqual([1, 2, 1]);
    expect(both.pieces[0]!.box).toEqual([50, 50, 150, 150]);
    expect(layer(both, 'A')).toMatchObject({ means: 'NOTE', from: 'answer' });
  });

  it('mean what the shop, then the customer, then the answer says', () => {
    mkdirSync(join(shop.shared, 'customers'), { recursive: true });
    writeFileSync(join(shop.shared, 'layers.yaml'), 'A: MARK\nB: MARK\nC: MARK\n');
    writeFileSync(join(shop.shared, 'customers/hollin.yaml'), 'layers: { B: FOLD, C: FOLD }\n');
    const words = of([
      rectangle(0, 0, 600, 400, 'OUTLINE'),
      ...['A', 'B', 'C'].map((name, i) => line(50, 50 + i, 300, 90 + i, name)),
    ]);
    const sight = look(words, { drawnBy: 'hollin', layers: [['C', 'STITCH']] });
    expect(sight.layers.map(({ name, means, from }) => [name, means, from])).toEqual([
      ['OUTLINE', 'OUTLINE', 'name'],
      ['A', 'MARK', 'shop'],
      ['B', 'FOLD', 'customer'],
      ['C', 'STITCH', 'answer'],
    ]);
    expect(sight.customers).toEqual(['hollin']);
    // A customer of whom nothing is known yet is no mistake.
    expect(look(words, { drawnBy: 'nobody-yet' }).pieces).toHaveLength(1);
    writeFileSync(join(shop.shared, 'layers.yaml'), '{}\n');
  });

  it('mean nothing by a number alone: what ASTM D6673 has under it is offered, and anybody may say otherwise', () => {
    // Layers of the standard: 1 boundary, 4 notches, 8 internal lines, 11 cutouts, 14 sewing lines.
    const words = of([
      rectangle(0, 0, 600, 400, '1'),
      rectangle(100, 100, 200, 200, '11'),
      ...['4', '8', '14'].map((name, i) => line(50, 50 + i, 300, 90 + i, name)),
      line(50, 300, 300, 310, '42'),
    ]);
    const offered = look(words).layers.map(({ name, means, from, looksLike }) => [
      name,
      means,
      from,
      looksLike?.means ?? null,
    ]);
    expect(offered).toEqual([
      ['1', null, null, 'OUTLINE'],
      ['11', null, null, 'CUTOUT'],
      ['4', null, null, 'NOTCH'],
      ['8', null, null, 'MARK'],
      ['14', null, null, 'STITCH'],
      ['42', null, null, null],
    ]);
    const said = look(words, { layers: [['8', 'FOLD']] });
    expect(layer(said, '8')).toMatchObject({ means: 'FOLD', from: 'answer', looksLike: null });
  });

  it.each<[string, [string, string][], RegExp]>([
    [
      'of a layer that is not there',
      [['Nirgends', 'PAD']],
      /nothing is drawn on a layer "Nirgends"/,
    ],
    ['that nothing can mean', [['A', 'CARPET']], /is nothing that a layer can mean/],
    ['against the name of a layer', [['OUTLINE', 'NOTE']], /means what its name says/],
    [
      'in two ways',
      [
        ['A', 'PAD'],
        ['a', 'NOTE'],
      ],
      /PAD and NOTE/,
    ],
  ])('refuse an answer %s', (_, layers, words) => {
    const entities = [rectangle(0, 0, 600, 400, 'OUTLINE'), rectangle(9, 9, 90, 90, 'A')];
    expect(() => look(of(entities), { layers })).toThrow(words);
  });
});

describe('what lies in no outline', () => {
  it('is told with its place', () => {
    const { leftOut } = look(customerDrawing(), { units: 'in' });
    expect(leftOut.map(({ layer: on, words, isText, box }) => [on, words, isText, box])).toEqual(
      expect.arrayContaining([
        ['Hilfslinie', 'an open line 500 mm long', false, [2400, 200, 2400, 700]],
      ]),
    );
    expect(leftOut.filter(({ isText }) => isText).map(({ words }) => words)).toEqual([
      'the text "FENLARK TOURER LHD"',
    ]);
  });
});

describe('the picture of a drawing', () => {
  it('has its lower left corner at 0, 0, however far out it is drawn', () => {
    const sight = look(of([rectangle(5e6, -3e6, 600, 400, 'OUTLINE')]));
    expect([sight.size, sight.pieces[0]!.box]).toEqual([
      [600, 400],
      [0, 0, 600, 400],
    ]);
  });

  it('shows blocks that nothing places beside the rest, none on another', () => {
    const words = dxf({
      header: inMm,
      blocks: [
        block('ONE', [rectangle(0, 0, 600, 400, 'OUTLINE')]),
        block('TWO', [rectangle(0, 0, 500, 300, 'OUTLINE')]),
      ],
      entities: [rectangle(0, 0, 700, 200, 'OUTLINE')],
    });
    const { pieces, layers } = look(words);
    expect(layers[0]!.count).toBe(3);
    const boxes = pieces.map(({ box }) => box).toSorted((a, b) => a[0] - b[0]);
    expect(boxes.map(([x0, , x1]) => Math.round(x1 - x0))).toEqual([700, 600, 500]);
    for (const [i, box] of boxes.slice(1).entries()) expect(box[0]).toBeGreaterThan(boxes[i]![2]);
  });

  it('of very many points is thinned by less than it says, with every thing still there', () => {
    const corners = Array.from({ length: 20_000 }, (_, i): [number, number] => {
      const angle = (2 * Math.PI * i) / 20_000;
      return [1000 * Math.cos(angle), 1000 * Math.sin(angle)];
    });
    const ring = (x: number): Tag[] => [
      [0, 'POLYLINE'],
      [8, 'A'],
      [66, 1],
      [70, 1],
      ...corners.flatMap(([dx, y]): Tag[] => [
        [0, 'VERTEX'],
        [8, 'A'],
        [10, x + dx],
        [20, y],
      ]),
      [0, 'SEQEND'],
    ];
    const dots = Array.from({ length: 500 }, (_, i) => line(i, 0, i + 0.01, 0, 'B'));
    const sight = look(of([ring(0), ring(3000), ...dots]));
    expect(sight.thinned).toBeGreaterThan(0);
    expect(layer(sight, 'B').d.match(/M/g)).toHaveLength(500);
    const { d } = layer(sight, 'A');
    expect(d.match(/M/g)).toHaveLength(2);
    const points = [...d.matchAll(/[ML]([\d.]+) ([\d.]+)/g)].map(([, x, y]) => [+x!, +y!] as const);
    expect(points.length).toBeLessThan(4000);
    // Every line lies within that distance of the circle: so do the middles of the longest.
    for (const [i, [x, y]] of points.slice(1).entries()) {
      const [px, py] = points[i]!;
      const middle = [(x + px) / 2, (y + py) / 2] as const;
      if (Math.hypot(x - px, y - py) > 500) continue;
      const off = Math.min(
        ...[1000, 4000].map((cx) => Math.abs(Math.hypot(middle[0] - cx, middle[1] - 1000) - 1000)),
      );
      expect(off).toBeLessThanOrEqual(sight.thinned + 0.02);
    }
  });

  it('in very many loose lines that meet end to end is drawn with as few as one line would need', () => {
    const count = 40_000;
    const at = (i: number): [number, number] => {
      const angle = (2 * Math.PI * i) / count;
      return [1000 + 1000 * Math.cos(angle), 1000 + 1000 * Math.sin(angle)];
    };
    const ring = Array.from({ length: count }, (_, i) =>
      line(...at(i), ...at((i + 1) % count), 'A'),
    );
    const apart = line(2500, 0, 2500, 700, 'A');
    const { d } = layer(look(of([...ring, apart, apart])), 'A');
    // The ring, and two lines that begin where no other ends.
    expect(d.match(/M/g)).toHaveLength(3);
    expect(d.match(/L/g)!.length).toBeLessThan(1000);
    const reached = [...d.matchAll(/[ML]([\d.]+) ([\d.]+)/g)].map(
      ([, x, y]) => [+x!, +y!] as const,
    );
    for (const side of [0, 1] as const) {
      expect(Math.min(...reached.map((one) => one[side]))).toBeCloseTo(0, 0);
      expect(Math.max(...reached.map((one) => one[side]))).toBeCloseTo(side === 0 ? 2500 : 2000, 0);
    }
  });
});

describe('what is proposed for the set', () => {
  it('is the name of the file, the largest text outside the pieces and the hand that a text says', () => {
    expect(look(customerDrawing(), { name: 'Größe 2 (neu).DXF', units: 'in' }).proposed).toEqual({
      name: 'grosse-2-neu',
      title: 'FENLARK TOURER',
      hand: 'LHD',
    });
    expect(look(customerDrawing(), { name: 'wren.dxf' }).proposed.name).toBe('wren-2');
  });

  it('is no hand where texts say both', () => {
    const both = look(
      of([rectangle(0, 0, 600, 400, 'OUTLINE'), text('RHD and LHD', 10, 10), text('MAT', 50, 90)]),
    );
    expect(both.proposed.hand).toBeNull();
  });
});

describe('a drawing that can only half be used', () => {
  it('is shown all the same where it has no closed outline', () => {
    const sight = look(of([line(0, 0, 600, 0, 'A'), line(600, 0, 600, 400, 'A')]));
    expect(sight.findings.filter(({ severity }) => severity === 'error')).not.toEqual([]);
    expect(layer(sight, 'A').d).toBe('M0 0L600 0M600 0L600 400');
    expect(sight.size).toEqual([600, 400]);
  });

  it('says why there is no piece where all is said to be a note', () => {
    const sight = look(of([rectangle(0, 0, 600, 400, 'A')]), { layers: [['A', 'NOTE']] });
    const words = sight.findings.map(({ message, todo }) => `${message} ${todo}`).join('\n');
    expect(words).toContain('layer A means NOTE');
  });

  it.each<[string, string | Uint8Array, RegExp]>([
    ['nothing', '', /empty/],
    ['a picture', Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 13, 10, 26, 10), /PNG/],
    ['a DWG', 'AC1032\0\0\0', /DWG/],
    ['a letter', 'Dear all,\nthe drawing follows.\n', /group code|DXF/],
    ['half a drawing', customerDrawing().slice(0, 900), /without EOF|ends|cut off|incomplete/],
  ])('is refused in words where it is %s, with nothing written', (_, words, said) => {
    const before = readdirSync(shop.patterns);
    let refusal: unknown = null;
    try {
      look(words);
    } catch (error) {
      refusal = error;
    }
    expect(refusal).toBeInstanceOf(Refusal);
    const [finding] = (refusal as Refusal).findings;
    expect(`${finding!.message} ${finding!.todo}`).toMatch(said);
    // The name of the file says nothing to who has it before them.
    expect(finding!.where.file).toBeUndefined();
    expect(readdirSync(shop.patterns)).toEqual(before);
  });

  it('is told where this very drawing has become a set before', () => {
    const drawing = customerDrawing();
    const folder = join(shop.patterns, 'tourer/received');
    mkdirSync(folder, { recursive: true });
    writeFileSync(join(folder, 'as it came.dxf'), drawing);
    expect(look(drawing).begun).toEqual(['tourer']);
    expect(look(drawing.replace('FENLARK', 'LARKFEN')).begun).toEqual([]);
    expect(readFileSync(join(folder, 'as it came.dxf'), 'utf8')).toBe(drawing);
  });

  it('may have a layer of any name', () => {
    for (const name of ['__proto__', 'constructor', "it's; --", 'ÄÖÜ ß', '<b>', 'A/B']) {
      const sight = look(of([rectangle(0, 0, 600, 400, 'OUTLINE'), line(9, 9, 99, 99, name)]), {
        layers: [[name, 'FOLD']],
      });
      expect(layer(sight, name)).toMatchObject({ means: 'FOLD', count: 1 });
    }
  });
});
