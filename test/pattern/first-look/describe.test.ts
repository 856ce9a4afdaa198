import { describe, expect, it } from 'vitest';
import { readDrawingText } from '../../drawing/read-text.ts';
import { describeDrawing } from '../../../src/pattern/first-look/describe.ts';
import type { DrawingReport } from '../../../src/pattern/first-look/sight.ts';
import type { Tag } from '../../drawing/dxf.ts';
import {
  block,
  dxf,
  halfTrapezium,
  inMm,
  insert,
  line,
  lwpolyline,
  text,
} from '../../drawing/dxf.ts';

import { rectangle as box } from '../../support/imported.ts';

type Parts = Parameters<typeof dxf>[0];

function seen(parts: Parts, refit?: number): DrawingReport {
  const drawing = readDrawingText(dxf({ header: inMm, ...parts }), 'case.dxf');
  return describeDrawing(drawing, new Map(), { gap: 0.05, refit }).report;
}

function rulesOf(report: DrawingReport): string[] {
  return report.findings.map(({ rule }) => rule);
}

describe('the pieces of a drawing', () => {
  it('on layers of no meaning are told from cutouts by what lies in what', () => {
    const report = seen({
      entities: [
        box(0, 0, 400, 300, 'A'),
        box(50, 50, 100, 100, 'A'),
        box(80, 80, 20, 20, 'A'),
        box(1000, 0, 200, 300, 'A'),
      ],
    });
    // The innermost lies in two others: an island, a piece of its own.
    expect(report.pieces.map(({ outline }) => outline.area)).toEqual([120_000, 400, 60_000]);
    expect(report.pieces[0]!.inner).toEqual([{ role: 'unknown', area: 10_000 }]);
  });

  it('go by their layers before that', () => {
    const report = seen({
      entities: [
        box(0, 0, 400, 300, 'OUTLINE'),
        box(50, 50, 100, 100, 'OUTLINE'),
        box(300, 50, 50, 50, 'CUTOUT'),
        box(2000, 0, 50, 50, 'HOLE'),
      ],
    });
    expect(report.pieces.map(({ outline }) => outline.area)).toEqual([120_000, 10_000]);
    expect(report.pieces.map(({ inner }) => inner.length)).toEqual([1, 0]);
    expect(rulesOf(report)).toEqual(['outline-in-outline', 'cutout-alone']);
  });

  it('drawn on two layers are one where both mean the same; otherwise the other lies on it', () => {
    const same = seen({ entities: [box(0, 0, 400, 300, '1'), box(0, 0, 400, 300, 'OUTLINE')] });
    expect(same.pieces.map(({ layers }) => layers)).toEqual([['1']]);
    expect(rulesOf(same)).toEqual(['repeated']);
    const other = seen({ entities: [box(0, 0, 400, 300, 'A'), box(0, 0, 400, 300, 'OUTLINE')] });
    expect(other.pieces.map(({ layers }) => layers)).toEqual([['A', 'OUTLINE']]);
    expect(rulesOf(other)).toEqual(['unknown-layer']);
    expect(other.findings[0]!.todo).toContain('(BOUND, SEAM, TUCK, TURNED, RAW, CUTOUT,');
  });

  it('have what is drawn on their edges, a hair outside too; what lies nowhere is told', () => {
    const point = (x: number, y: number, layer: string): Tag[] => {
      return [
        [0, 'POINT'],
        [8, layer],
        [10, x],
        [20, y],
      ];
    };
    const report = seen({
      entities: [
        box(0, 0, 400, 300, 'OUTLINE'),
        box(1000, 0, 400, 300, 'OUTLINE'),
        point(200, -0.0005, 'NOTCH'),
        line(1400.2, 0, 1400.2, 300, 'BOUND'),
        line(700, 0, 700, 100, 'PILE'),
        point(700, 700, 'HOLE'),
        point(720, 700, 'HOLE'),
        text('scale 1:1', 700, 500),
      ],
    });
    expect(report.pieces.map(({ features }) => features)).toEqual([{ NOTCH: 1 }, { BOUND: 1 }]);
    expect(report.findings.map(({ message }) => message)).toEqual([
      '1 on layer PILE lies in no outline and belongs to no piece: an open line 100 mm long at 700, 0.',
      '2 on layer HOLE lie in no outline and belong to no piece: a point at 700, 700; a point at 720, 700.',
    ]);
  });

  it('touching side by side hold nothing of each other', () => {
    const report = seen({ entities: [box(0, 0, 400, 300, 'A'), box(400, 0, 100, 100, 'A')] });
    expect(report.pieces.length).toBe(2);
  });

  it('are named by a label, their block, or the largest text on them', () => {
    const report = seen({
      blocks: [
        block('P1', [box(0, 0, 300, 200, 'OUTLINE'), text('PIECE NAME:  Tub ', 10, 10)]),
        block('SILL', [box(0, 0, 300, 200, 'OUTLINE'), text('something', 10, 10)]),
        block('SPARE', [box(0, 0, 300, 100, 'OUTLINE')]),
      ],
      entities: [
        insert('P1', 0, 0),
        insert('SILL', 1000, 0),
        box(0, 1000, 300, 200, 'OUTLINE'),
        text('Tunnel', 20, 1050, 30),
        text('cut twice', 20, 1020, 8),
        text('Material: loop', 20, 1090, 60),
        box(1000, 1000, 300, 200, 'OUTLINE'),
      ],
    });
    expect(report.pieces.map(({ name, nameFrom }) => [name, nameFrom])).toEqual([
      ['Tub', 'text'],
      ['SILL', 'block'],
      ['Tunnel', 'text'],
      ['drawing-2', 'count'],
      ['SPARE', 'block'],
    ]);
    expect(report.pieces[2]!.labels).toEqual({ material: 'loop' });
  });

  it('are seen as an insert places them, each place of an array', () => {
    const report = seen({
      blocks: [block('TUB', [box(0, 0, 100, 50, 'OUTLINE')])],
      entities: [
        insert('TUB', 0, 0, [
          [41, 2],
          [42, -3],
          [70, 2],
          [44, 500],
        ]),
      ],
    });
    expect(report.pieces.map(({ name }) => name)).toEqual(['TUB', 'TUB (2)']);
    expect(report.pieces.map(({ outline }) => outline.bbox)).toEqual([
      [0, -150, 200, 0],
      [500, -150, 700, 0],
    ]);
  });

  it('drawn half are made whole by the mirror line of the numbered layers', () => {
    const { pieces } = seen({
      entities: [
        halfTrapezium,
        line(0, 0, 0, 300, '6'),
        box(60, 100, 40, 40, '11'),
        box(0, 0, 200, 300, '84'),
      ],
    });
    // A trapezium of 400 and 300 over 300; the cutout and its image.
    expect(pieces).toMatchObject([{ half: true, outline: { area: 105_000 } }]);
    expect(pieces[0]!.inner.map(({ area }) => area)).toEqual([1600, 1600]);
    expect(pieces[0]!.outline.bbox).toEqual([-200, 0, 200, 300]);
  });
});

describe('what is found on them', () => {
  it('names every place where a contour crosses itself', () => {
    const bow = lwpolyline(
      [
        [0, 0, 0],
        [100, 100, 0],
        [100, 0, 0],
        [0, 100, 0],
      ],
      true,
    );
    const [finding] = seen({ entities: [bow] }).findings;
    expect(finding).toMatchObject({ rule: 'self-crossing', severity: 'error' });
    expect(finding!.message).toContain('at 50, 50');
    expect(finding!.where.at).toEqual({ x: 50, y: 50 });
  });

  it('says which outline is open and how wide', () => {
    const open = lwpolyline(
      [
        [3, 0, 0],
        [300, 0, 0],
        [300, 200, 0],
        [0, 0, 0],
      ],
      false,
    );
    const report = seen({ entities: [open] });
    expect(report.pieces).toEqual([]);
    expect(report.findings).toMatchObject([{ rule: 'open-contour', severity: 'error' }]);
    expect(report.findings[0]!.message).toContain('gap of 3 mm');
  });

  it.each([
    [29, 20, true],
    [31, 20, false],
    [5999, 100, false],
    [6001, 100, true],
  ])('doubts a piece of %f x %f mm: %s', (width, height, doubted) => {
    const rules = rulesOf(seen({ entities: [box(0, 0, width, height, 'OUTLINE')] }));
    expect(rules.includes('implausible-size')).toBe(doubted);
  });

  it('counts repeats and takes each once', () => {
    const report = seen({
      entities: [
        box(0, 0, 400, 300, 'OUTLINE'),
        box(0, 0, 400, 300, 'OUTLINE'),
        line(400, 0, 0, 0, 'FOLD'),
        line(0, 0, 400, 0, 'FOLD'),
      ],
    });
    expect(report.pieces.length).toBe(1);
    expect(rulesOf(report)).toEqual(['repeated', 'repeated']);
    expect(report.pieces[0]!.features.FOLD).toBe(1);
  });

  it('tells points before and after a refit, and the largest deviation', () => {
    const round = Array.from({ length: 720 }, (_, i) => {
      const angle = (Math.PI * i) / 360;
      return [500 * Math.cos(angle), 500 * Math.sin(angle), 0] as const;
    });
    const report = seen({ entities: [lwpolyline(round, true)] }, 0.1);
    expect(report.findings).toMatchObject([{ rule: 'refitted' }]);
    expect(report.findings[0]!.message).toMatch(
      /^720 points .* to \d+ \(\d+ arcs\), at most 0\.\d+ mm/,
    );
    expect(report.pieces[0]!.outline.area / (Math.PI * 500 ** 2)).toBeCloseTo(1, 3);
  });
});

describe('what no layer explains', () => {
  const floor = box(0, 0, 400, 300, 'OUTLINE');

  it('is told, one finding for each layer, with kind, size and place', () => {
    const report = seen({
      entities: [floor, box(100, 100, 180, 90, 'red'), box(20, 20, 50, 50, 'CUTOUT')],
    });
    expect(report.findings).toMatchObject([
      { rule: 'unknown-layer', severity: 'warning', where: { at: { x: 100, y: 100 } } },
    ]);
    expect(report.findings[0]!.message).toContain('a closed line of 180 by 90 mm');
    expect(report.pieces[0]!.unknownLayers).toEqual(['red']);
    const three = seen({
      entities: [
        floor,
        box(100, 100, 180, 90, 'red'),
        line(10, 10, 10, 40, 'red'),
        line(5, 5, 9, 5, 'blue'),
      ],
    });
    expect(rulesOf(three)).toEqual(['unknown-layer', 'unknown-layer']);
    expect(three.findings[0]!.message).toContain('an open line 30 mm long in drawing at 10, 10');
  });

  it('is no piece of its own inside an outline that is named as one', () => {
    const report = seen({
      entities: [floor, box(100, 100, 180, 90, 'red'), box(120, 120, 20, 20, 'red')],
    });
    expect(report.pieces.length).toBe(1);
    expect(report.pieces[0]!.inner.map(({ role }) => role)).toEqual(['unknown', 'unknown']);
  });

  it('is nothing to tell where only the outline is on it', () => {
    expect(rulesOf(seen({ entities: [box(0, 0, 400, 300, 'red')] }))).toEqual([]);
  });
});

describe('what people draw beside a piece', () => {
  const two = [box(0, 0, 400, 300, 'OUTLINE'), box(0, 1000, 400, 300, 'OUTLINE')];

  it('is a centreline that runs on: it belongs to each piece that it runs through', () => {
    const both = seen({ entities: [...two, line(200, -100, 200, 2000, 'AXIS')] });
    expect(both.pieces.map(({ features }) => features)).toEqual([{ AXIS: 1 }, { AXIS: 1 }]);
    expect(both.findings).toEqual([]);
    const begun = seen({ entities: [...two, line(200, 150, 200, 2000, 'AXIS')] });
    expect(begun.pieces.map(({ features }) => features)).toEqual([{ AXIS: 1 }, { AXIS: 1 }]);
    const one = seen({ entities: [...two, line(200, -100, 200, 400, 'AXIS')] });
    expect(one.pieces.map(({ features }) => features)).toEqual([{ AXIS: 1 }, {}]);
    expect(one.findings).toEqual([]);
  });

  it('belongs to the nearest piece within reach, if that is clear', () => {
    const nearby = [box(0, 0, 400, 300, 'OUTLINE'), box(450, 0, 400, 300, 'OUTLINE')];
    const clear = seen({ entities: [...nearby, line(410, 0, 410, 300, 'BOUND')] });
    expect(clear.pieces.map(({ features }) => features)).toEqual([{ BOUND: 1 }, {}]);
    const between = seen({ entities: [...nearby, line(425, 0, 425, 300, 'BOUND')] });
    expect(rulesOf(between)).toEqual(['in-no-outline']);
    const far = seen({ entities: [...nearby, line(-70, 0, -70, 300, 'BOUND')] });
    expect(rulesOf(far)).toEqual(['in-no-outline']);
  });

  it('is told of a single loose piece too', () => {
    const report = seen({ entities: [two[0]!, line(0, 700, 100, 700, 'FOLD')] });
    expect(rulesOf(report)).toEqual(['in-no-outline']);
    expect(report.findings[0]!.message).toContain('an open line 100 mm long at 0, 700');
  });
});

describe('a drawing without a piece', () => {
  it.each([
    ['nothing', [], /nothing is drawn/],
    ['one line', [line(0, 0, 100, 0, 'FOLD')], /no closed outline/],
  ])('that holds %s is an error', (_, entities, says) => {
    const { findings } = seen({ entities });
    expect(findings).toMatchObject([{ rule: 'no-piece', severity: 'error' }]);
    expect(findings[0]!.message).toMatch(says);
  });
});

describe('gaps that are bridged', () => {
  it('are one line for all layers and pieces, at the widest', () => {
    const torn = (x: number, gap: number): Tag[][] => [
      line(x, 0, x + 100, 0, 'OUTLINE'),
      line(x + 100, gap, x + 100, 100, 'OUTLINE'),
      line(x + 100, 100, x, 100 - gap / 2, 'OUTLINE'),
      line(x, 100 - gap / 2, x, 0, 'OUTLINE'),
    ];
    const { pieces, findings } = seen({
      blocks: [block('A', torn(0, 0.02)), block('B', torn(500, 0.04))],
      entities: [insert('A', 0, 0), insert('B', 0, 0)],
    });
    expect(pieces.length).toBe(2);
    expect(findings).toMatchObject([{ rule: 'gap-bridged', severity: 'note' }]);
    expect(findings[0]!.message).toBe(
      '2 gaps on layer OUTLINE of 2 pieces are bridged, the widest of 0.04 mm at 600.0, 0.0 in B.',
    );
  });
});

describe('units that a drawing shows', () => {
  const inches: Tag[] = [
    [9, '$INSUNITS'],
    [70, 1],
  ];
  const piece = box(0, 0, 40, 30, 'OUTLINE');

  it.each([
    ['CHECK 100 MM', 10, 'cm'],
    ['check square 100,0 mm', 100, 'mm'],
    ['10 cm x 10 cm test', 100, 'mm'],
    ['SCALE 4 IN', 4, 'in'],
    ['100 x 100 mm', 10, 'cm'],
  ])(
    'by a square marked "%s" with sides of %f are %s, whatever the header says',
    (words, side, units) => {
      const report = seen({
        header: inches,
        entities: [piece, box(500, 0, side, side, 'X'), text(words, 500 + side / 4, side / 4, 1)],
      });
      expect(report.units).toBe(units);
      expect(report.unitsFrom).toBe(units === 'in' ? 'header' : 'square');
      // The square is no piece.
      expect(report.pieces.length).toBe(1);
    },
  );

  it('by a square of four lines are seen too', () => {
    const sides = [line(0, 0, 0, 10), line(10, 10, 0, 10), line(10, 10, 10, 0), line(0, 0, 10, 0)];
    const report = seen({ header: [], entities: [...sides, text('CHECK 100 MM', 2, 2, 1)] });
    expect(report).toMatchObject({ units: 'cm', unitsFrom: 'square' });
  });

  it('by a square that is right in none are refused to be believed', () => {
    const report = seen({
      entities: [piece, box(500, 0, 97, 97, 'X'), text('CHECK 100 MM', 510, 5, 1)],
    });
    expect(report.findings).toMatchObject([{ rule: 'not-to-scale', severity: 'error' }]);
  });

  it.each([
    ['CHECK 100 MM', true],
    ['Check square 100 x 100 mm', true],
    ['SCALE: 4 in', true],
    ['CHECK LENGTH 250 MM', false],
    ['test fit: 3 mm at the sill', false],
    ['100 x 100 mm', false],
  ])('by "%s" without a square are told: %s', (words, told) => {
    const report = seen({ entities: [piece, text(words, 0, -50)] });
    expect(report).toMatchObject({ units: 'mm', unitsFrom: 'header' });
    const found = report.findings.filter(({ rule }) => rule === 'no-check-square');
    expect(found.map(({ severity }) => severity)).toEqual(told ? ['warning'] : []);
  });

  it('by a square that has its text are not doubted for another text', () => {
    const texts = [text('CHECK 100 MM', 0, -50), text('CHECK 100 MM', 510, 5, 1)];
    const report = seen({ entities: [piece, box(500, 0, 100, 100, 'X'), ...texts] });
    expect(rulesOf(report)).not.toContain('no-check-square');
  });

  it('are not taken from a hole with its size beside it', () => {
    const report = seen({
      entities: [box(0, 0, 400, 300, 'A'), box(50, 50, 97, 97, 'A'), text('hole 100 mm', 60, 60)],
    });
    expect(report).toMatchObject({ units: 'mm', unitsFrom: 'header' });
    // Nothing says whether it is a hole at all.
    expect(rulesOf(report)).toEqual(['unknown-layer']);
  });

  it.each([
    ['Units: METRIC', 'mm'],
    ['UNITS : english', 'in'],
  ])('by the text "%s" are %s where the header is silent', (words, units) => {
    expect(seen({ header: [], entities: [piece, text(words, 0, -50)] })).toMatchObject({
      units,
      unitsFrom: 'text',
    });
  });
});
