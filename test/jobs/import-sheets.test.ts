import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { areaOf } from '../../src/geometry/paths/area.ts';
import { boxOfPath } from '../../src/geometry/paths/path.ts';
import { readDrawing } from '../../src/drawing/read.ts';
import { Refusal } from '../../src/base/findings.ts';
import type { PatternSet } from '../../src/pattern/set.ts';
import type { Tag } from '../drawing/dxf.ts';
import { dxf, inMm, line, lwpolyline, onLayer, text } from '../drawing/dxf.ts';
import { checkedAfter, imported, rectangle } from '../support/imported.ts';

/** A piece of 600 x 300 with a hole and a seam at its edge. */
const piece = (x: number, y: number, layer = 'Cut'): Tag[][] => [
  rectangle(x, y, 600, 300, layer),
  rectangle(x + 100, y + 100, 50, 50, 'Loch'),
  line(x, y, x + 600, y, 'Naht'),
  text(`PIECE ${x}`, x + 200, y + 200, 20),
];

function areas({ pieces }: PatternSet): number[] {
  return pieces.map(({ outline }) => areaOf(outline));
}

function leftOut({ leftOut: out }: PatternSet): string[] {
  return out.flatMap(({ kind, layer }) => (kind === 'text' ? [] : [layer]));
}

describe('a rectangle round a whole drawing', () => {
  /** A pad with a rib and a name. */
  const pad = (x: number, layer: string): Tag[][] => [
    rectangle(x, 100, 200, 200, layer),
    line(x + 20, 150, x + 180, 150, 'rib'),
    text('PAD', x + 20, 200, 20),
  ];
  const inside = [...piece(100, 0), ...piece(100, 1000), ...piece(1000, 0)];

  it.each([
    ['three pieces', inside, 0, 1500],
    ['two pieces, wider than any roll', inside.slice(0, 8), -1000, 2400],
    [
      'two pieces on OUTLINE',
      [rectangle(100, 0, 600, 300, 'OUTLINE'), rectangle(100, 1000, 600, 300, 'OUTLINE')],
      0,
      1500,
    ],
  ])('is a frame: %s', async (_, pieces, y, height) => {
    const bare = await checkedAfter(pieces);
    const frame = rectangle(0, Math.min(y, -100), 2200, height, 'Sheet');
    const { made, findings, patterns } = await checkedAfter([...pieces, frame]);
    expect(areas(patterns)).toEqual(areas(bare.patterns));
    expect(made.set.pieces.map(({ name }) => name)).toEqual(
      bare.made.set.pieces.map(({ name }) => name),
    );
    expect(leftOut(patterns)).toEqual(['SHEET']);
    expect(made.findings.map(({ rule }) => rule)).toContain('frame');
    const question = findings.find(({ message }) => message.includes('lies in no outline'));
    expect(question!.message).toContain(`a closed line of 2200 by ${height} mm`);
  });

  it('is a frame within a frame too', async () => {
    const { patterns } = await checkedAfter([
      ...inside,
      rectangle(0, -100, 1800, 1500, 'Sheet'),
      rectangle(-20, -120, 1840, 1540, 'Sheet'),
    ]);
    expect(areas(patterns)).toEqual([180_000, 180_000, 180_000]);
    expect(leftOut(patterns)).toEqual(['SHEET', 'SHEET']);
  });

  it('is a piece where only marked holes lie in it, however wide it is', async () => {
    const { patterns } = await checkedAfter([
      rectangle(0, 0, 2400, 2300, 'Cut'),
      ...[100, 400].flatMap((x) => [
        rectangle(x, 100, 50, 50, 'Loch'),
        line(x + 10, 125, x + 40, 125, 'cross'),
      ]),
    ]);
    expect(areas(patterns)).toEqual([2400 * 2300]);
  });

  it.each<[string, Tag[][]]>([
    [
      'with two marked holes',
      [100, 400].flatMap((x) => [
        rectangle(x, 100, 50, 50, 'Loch'),
        line(x + 10, 125, x + 40, 125, 'cross'),
      ]),
    ],
    [
      'with labelled holes',
      [100, 300, 500].flatMap((x) => [
        rectangle(x, 100, 50, 50, 'Loch'),
        text('jack', x + 10, 110, 10),
      ]),
    ],
    ['with three ribbed pads', [100, 400, 700].flatMap((x) => pad(x, 'red').slice(0, 2))],
    ['with two ribbed pads that are named', [100, 400].flatMap((x) => pad(x, 'red'))],
    [
      'with two ribbed pads that are drawn on two layers',
      [100, 400].flatMap((x) => [...pad(x, 'red'), ...pad(x, 'Tape')]),
    ],
  ])('is a piece %s', async (_, things) => {
    const { patterns } = await checkedAfter([
      rectangle(0, 0, 1200, 800, 'Cut'),
      text('FLOOR', 500, 500, 40),
      ...things,
    ]);
    expect(areas(patterns)).toEqual([960_000]);
  });
});

/** Half of a piece, 200 wide below and 150 above, 300 high, open at x = 0. */
const halfOpen = (layer: string): Tag[][] => [
  line(0.6, 0, 200, 0, layer),
  line(200, 0, 150, 300, layer),
  line(150, 300, 0, 300, layer),
];

describe('an outline that is open against a centreline', () => {
  const others = piece(1000, 0);

  it.each([
    ['of layers that say nothing', 'Cut', 'cl', others],
    ['alone in its drawing', 'Cut', 'cl', []],
    ['of layers with a meaning', 'OUTLINE', 'AXIS', others],
  ])('is one half of a piece %s, and is asked about', async (_, layer, centre, more) => {
    const { made, findings, patterns } = await checkedAfter([
      ...more,
      ...halfOpen(layer),
      text('HEELBOARD', 40, 100, 20),
      line(0, -40, 0, 340, centre),
    ]);
    const half = patterns.pieces.find(({ name }) => name === 'heelboard')!;
    expect(half.entry).toMatchObject({ half: true, side: 'centre' });
    // A trapezium of 400 and 300 over 300.
    expect(areaOf(half.outline)).toBeCloseTo(105_000, 6);
    expect(boxOfPath(half.outline).minX).toBe(-200);
    expect(made.findings.map(({ rule }) => rule)).toContain('half-outline');
    expect(half.axis).not.toBe(null);
    const asked = findings.filter(({ message }) => message.includes('"half: true" is a guess'));
    expect(asked).toMatchObject([{ severity: 'error', rule: 'open-question' }]);
    expect(leftOut(patterns)).toEqual([]);
  });

  it('takes the line at its ends where the vehicle’s centreline goes on elsewhere', async () => {
    const { patterns } = await checkedAfter([
      ...halfOpen('OUTLINE'),
      line(0, 2000, 0, 1000, 'AXIS'),
      rectangle(-100, 1100, 200, 300, 'OUTLINE'),
      line(0, -40, 0, 340, 'AXIS'),
    ]);
    expect(areas(patterns).map(Math.round).toSorted()).toEqual([105_000, 60_000]);
  });

  it.each<[string, Tag[]]>([
    ['whose ends lie 2 mm from the line', line(-2, -40, -2, 340, 'cl')],
    ['that ends short of it', line(0, 40, 0, 340, 'cl')],
  ])('is none where there is a line %s', async (_, centre) => {
    const { made } = await checkedAfter([...others, ...halfOpen('Cut'), centre]);
    expect(made.set.pieces.map(({ half }) => half)).toEqual([null]);
  });

  it('is none where it lies on both sides of the line', async () => {
    const { made } = await checkedAfter([
      ...others,
      line(0, 0, 200, 0, 'Cut'),
      line(200, 0, -100, 300, 'Cut'),
      line(-100, 300, 0, 300, 'Cut'),
      line(0, -40, 0, 340, 'cl'),
    ]);
    expect(made.set.pieces.map(({ half }) => half)).toEqual([null]);
  });

  it('is none on a layer that other pieces do not have their outlines on', async () => {
    const { made } = await checkedAfter([
      ...others,
      ...halfOpen('Tape'),
      line(0, -40, 0, 340, 'cl'),
    ]);
    expect(made.set.pieces.map(({ half }) => half)).toEqual([null]);
  });
});

describe('a line of OUTLINE in no outline', () => {
  const floor = [rectangle(0, 0, 600, 400, 'OUTLINE'), text('FLOOR', 200, 200, 20)];

  it('that is straight and alone is left out, and asked about', async () => {
    const { patterns, findings } = await checkedAfter([
      ...floor,
      line(2000, 0, 2100, 0, 'OUTLINE'),
    ]);
    expect(areas(patterns)).toEqual([240_000]);
    expect(leftOut(patterns)).toEqual(['OUTLINE']);
    expect(findings.some(({ message }) => message.includes('an open line 100 mm long'))).toBe(true);
  });

  it.each<[string, Tag[][]]>([
    [
      'with another near its end',
      [line(2000, 0, 2100, 0, 'OUTLINE'), line(2103, 0, 2103, 99, 'OUTLINE')],
    ],
    [
      'with corners',
      [
        onLayer(
          lwpolyline(
            [
              [2000, 0, 0],
              [2100, 0, 0],
              [2100, 80, 0],
            ],
            false,
          ),
          'OUTLINE',
        ),
      ],
    ],
  ])('%s is refused', async (_, lines) => {
    const refusal = await checkedAfter([...floor, ...lines]).catch((cause: unknown) => cause);
    expect(refusal).toBeInstanceOf(Refusal);
    expect((refusal as Refusal).findings.map(({ rule }) => rule)).toContain('open-contour');
  });
});

describe('a straight line of OUTLINE on a piece', () => {
  const floor = [rectangle(0, 0, 600, 400, 'OUTLINE'), text('FLOOR', 200, 200, 20)];

  it.each<[string, Tag[][], string]>([
    ['inside it', [line(100, 50, 200, 50, 'OUTLINE')], 'an open line 100 mm long'],
    [
      'at its edge, with another beside it',
      [line(100, 0, 100, 6, 'OUTLINE'), line(130, 0, 130, 6, 'OUTLINE')],
      'Probably NOTCH: short lines at the edge.',
    ],
    ['across it', [line(-3, 50, 603, 50, 'OUTLINE')], 'an open line 606 mm long'],
  ])('%s is asked about on a layer of its own', async (_, lines, words) => {
    const { made, patterns, findings } = await checkedAfter([...floor, ...lines]);
    expect(areas(patterns)).toEqual([240_000]);
    expect(made.findings.map(({ rule }) => rule)).toEqual(['on-outline-layer', 'unknown-layer']);
    const asked = findings.find(({ rule }) => rule === 'unknown-layer')!;
    expect(asked.message).toContain('"OUTLINE-THINGS"');
    expect(asked.message).toContain(words);
  });

  it('that may belong to a contour with gaps is refused', async () => {
    const hole = [line(100, 100, 200, 100), line(200.3, 100, 200.3, 200), line(200, 200, 100, 200)];
    const refusal = await checkedAfter([...floor, ...hole]).catch((cause: unknown) => cause);
    expect((refusal as Refusal).findings.map(({ message }) => message)).toEqual([
      expect.stringContaining('a gap of 0.3 mm'),
      expect.stringContaining('a gap of 0.3 mm'),
      expect.stringContaining('a gap of 100 mm'),
    ]);
  });
});

describe('PILE drawn as an arrow', () => {
  const floor = [rectangle(0, 0, 600, 400, 'OUTLINE'), text('FLOOR', 200, 50, 20)];
  const shaft = line(300, 200, 300, 350, 'PILE');
  const head = (y: number, back: number): Tag[][] => [
    line(300, y, 290, y + back, 'PILE'),
    line(312, y + back, 300, y, 'PILE'),
  ];
  const pileOf = ({ pieces: [first] }: PatternSet): number[] => {
    const { from, to } = first!.pile!;
    return [from.x, from.y, to.x, to.y];
  };

  it.each([
    ['at the end', head(350, -25), [300, 200, 300, 350]],
    ['at the beginning', head(200, 25), [300, 350, 300, 200]],
  ])('says by its head which way: %s', async (_, barbs, expected) => {
    const { patterns, findings } = await checkedAfter([...floor, shaft, ...barbs]);
    expect(pileOf(patterns)).toEqual(expected);
    expect(findings.filter(({ rule }) => rule === 'one-pile')).toEqual([]);
  });

  it.each([
    ['heads at both ends', [...head(350, -25), ...head(200, 25)]],
    ['a head that opens forward', head(350, 25)],
    ['a second line', [line(100, 200, 100, 350, 'PILE')]],
    ['a second line as long', [line(300, 350, 300, 200.5, 'PILE')]],
  ])('with %s is asked about, and read all the same', async (_, more) => {
    const { patterns, findings } = await checkedAfter([...floor, shaft, ...more]);
    expect(areas(patterns)).toEqual([240_000]);
    expect(findings.filter(({ rule }) => rule === 'one-pile')).toMatchObject([
      { severity: 'error', where: { piece: 'floor' } },
    ]);
  });
});

describe('a sheet with all of this', () => {
  it('loses no line', async () => {
    const entities = [
      ...piece(100, 0),
      ...piece(100, 1000),
      ...piece(1000, 0),
      ...halfOpen('Cut').map((one) =>
        one.map(([code, value]): Tag => [
          code,
          code === 20 || code === 21 ? Number(value) + 2000 : value,
        ]),
      ),
      line(0, 1960, 0, 2340, 'cl'),
      rectangle(-500, -100, 3000, 3000, 'Sheet'),
      line(2300, 0, 2400, 0, 'Cut'),
    ];
    await imported(dxf({ header: inMm, entities }), (_, root) => {
      const count = (file: string): number =>
        readDrawing(join(root, file), { setUnits: 'mm' }).entities.length;
      // Three lines of the half outline are one there.
      expect(count('patterns/customer/customer.dxf')).toBe(count('customer.dxf') - 2);
    });
  });
});
