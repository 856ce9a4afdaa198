import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Entity } from '../../../src/drawing/drawing.ts';
import { readDrawingText } from '../read-text.ts';
import type { R12Drawing } from '../../../src/drawing/writing/write-r12.ts';
import { isR12Name, writeR12 } from '../../../src/drawing/writing/write-r12.ts';
import { areaOf } from '../../../src/geometry/paths/area.ts';
import type { Path } from '../../../src/geometry/paths/path.ts';
import { circle, pathLength, polyline } from '../../../src/geometry/paths/path.ts';
import { distance } from '../../../src/geometry/paths/point.ts';
import { ezdxf, refereeReadings } from '../ezdxf.ts';
import { parsedDxf } from '../../support/dxf-parser.ts';

const layers = [
  { name: 'OUTLINE', colour: 1 },
  { name: 'NOTE', colour: 255 },
];

const drawn = (path: Path): Entity => ({ kind: 'path', layer: 'OUTLINE', line: 0, path });
const sheetOf = (...entities: Entity[]): R12Drawing => ({ layers, entities });
const note = (text: string, deg = 0): Entity => {
  return { kind: 'text', layer: 'NOTE', line: 0, at: { x: 1, y: 2 }, text, height: 5, deg };
};

const square = polyline(
  [0, 1, 2, 3].map((i) => ({ x: i === 1 || i === 2 ? 50 : 0, y: i > 1 ? 50 : 0 })),
  true,
);

const millimetres = fc.double({ min: -5000, max: 5000, noNaN: true });
const bulge = fc.oneof(fc.constant(0), fc.double({ min: -1, max: 1, noNaN: true }));
/** Corners far enough apart that writing six decimals joins none of them. */
const path: fc.Arbitrary<Path> = fc
  .tuple(
    fc.uniqueArray(fc.tuple(millimetres, millimetres, bulge), {
      minLength: 2,
      maxLength: 12,
      comparator: ([x1, y1], [x2, y2]) => Math.hypot(x1 - x2, y1 - y2) < 0.01,
    }),
    fc.boolean(),
  )
  .map(([corners, closed]) => ({
    closed,
    vertices: corners.map(([x, y, b], i) => ({
      x,
      y,
      bulge: closed || i < corners.length - 1 ? b : 0,
    })),
  }));

const rereadPaths = (text: string): Path[] =>
  readDrawingText(text, 'sheet.dxf', { units: 'mm' }).entities.flatMap((entity) =>
    entity.kind === 'path' ? [entity.path] : [],
  );

describe('writing and reading', () => {
  it('gives the same paths in the same order, arcs and all, to a millionth', () => {
    fc.assert(
      fc.property(fc.array(path, { maxLength: 5 }), (paths) => {
        const read = rereadPaths(writeR12(sheetOf(...paths.map(drawn))));
        expect(read.length).toBe(paths.length);
        for (const [i, { closed, vertices }] of read.entries()) {
          expect(closed).toBe(paths[i]!.closed);
          expect(vertices.length).toBe(paths[i]!.vertices.length);
          for (const [j, vertex] of vertices.entries()) {
            const given = paths[i]!.vertices[j]!;
            expect(Math.abs(vertex.x - given.x)).toBeLessThanOrEqual(1e-6);
            expect(Math.abs(vertex.y - given.y)).toBeLessThanOrEqual(1e-6);
            const next = paths[i]!.vertices[(j + 1) % vertices.length]!;
            const rise = (Math.abs(vertex.bulge - given.bulge) * distance(given, next)) / 2;
            expect(rise).toBeLessThanOrEqual(5e-6);
          }
        }
      }),
    );
  });

  it('gives the same texts, whatever their letters', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: 'grapheme', minLength: 1 }).filter((text) => !/[\p{Cc}]/u.test(text)),
        (text) => {
          const written = writeR12(sheetOf(note(text, 30)));
          expect(written).toMatch(/^[\n -~]*$/);
          const [entity] = readDrawingText(written, 'sheet.dxf').entities;
          expect(entity).toMatchObject({ kind: 'text', text, height: 5, deg: 30, layer: 'NOTE' });
        },
      ),
    );
  });

  it('gives the same blocks, points and placed blocks', () => {
    const hole = circle({ x: 5, y: 5 }, 2);
    const text = writeR12({
      layers,
      blocks: [{ name: 'TUB', entities: [drawn(hole)] }],
      inserts: [{ block: 'TUB', layer: 'NOTE', at: { x: 100, y: 10 } }],
      entities: [{ kind: 'point', layer: 'NOTE', line: 0, at: { x: 3, y: 4 } }],
    });
    const { blocks, entities } = readDrawingText(text, 'sheet.dxf');
    expect(blocks).toMatchObject([{ name: 'TUB', entities: [{ path: hole }] }]);
    expect(entities).toMatchObject([
      { kind: 'path', path: circle({ x: 105, y: 15 }, 2) },
      { kind: 'point', at: { x: 3, y: 4 } },
    ]);
  });
});

describe('the file', () => {
  it('sets each line of a text under the one before', () => {
    const texts = readDrawingText(writeR12(sheetOf(note('TUB\nLEFT'))), 'sheet.dxf').entities;
    expect(texts).toMatchObject([
      { text: 'TUB', at: { x: 1, y: 2 } },
      { text: 'LEFT', at: { x: 1 } },
    ]);
    expect(texts[1]).toHaveProperty('at.y', expect.closeTo(2 - 25 / 3, 5));
  });

  it('is the same text for the same sheet', () => {
    fc.assert(
      fc.property(path, (p) => {
        expect(writeR12(sheetOf(drawn(p)))).toBe(writeR12(sheetOf(drawn(structuredClone(p)))));
      }),
    );
  });

  it('states extents that hold an arc’s crown, not only its ends', () => {
    // A half circle over a chord of 100 rises by its radius, 50 (bulge 1: sagitta = chord / 2) [S].
    const arch: Path = {
      closed: false,
      vertices: [
        { x: 100, y: 0, bulge: 1 },
        { x: 0, y: 0, bulge: 0 },
      ],
    };
    const text = writeR12(sheetOf(drawn(arch)));
    expect(text).toContain('$EXTMIN\n 10\n0\n 20\n0\n');
    expect(text).toContain('$EXTMAX\n 10\n100\n 20\n50\n');
  });

  it('can be of nothing', () => {
    expect(readDrawingText(writeR12(sheetOf()), 'sheet.dxf').entities).toEqual([]);
  });

  it.each<[string, R12Drawing, RegExp]>([
    [
      'a coordinate that is none',
      sheetOf(
        drawn(
          polyline(
            [
              { x: 0, y: Number.NaN },
              { x: 1, y: 1 },
            ],
            false,
          ),
        ),
      ),
      /NaN/,
    ],
    [
      'an endless coordinate',
      sheetOf(
        drawn(
          polyline(
            [
              { x: 0, y: Infinity },
              { x: 1, y: 1 },
            ],
            false,
          ),
        ),
      ),
      /Infinity/,
    ],
    ['a path of one vertex', sheetOf(drawn(polyline([{ x: 0, y: 0 }], false))), /fewer than two/],
    ['a layer the sheet has not', { layers: [], entities: [drawn(square)] }, /no layer OUTLINE/],
    [
      'a name in small letters',
      { layers: [{ name: 'outline', colour: 1 }], entities: [] },
      /named outline/,
    ],
    ['colour 0', { layers: [{ name: 'A', colour: 0 }], entities: [] }, /colour 0/],
    ['two layers of one name', { layers: [...layers, ...layers], entities: [] }, /two layers/],
    [
      'a block it has not',
      { layers, inserts: [{ block: 'X', layer: 'NOTE', at: { x: 0, y: 0 } }], entities: [] },
      /no block X/,
    ],
  ])('is not made of %s', (_, sheet, words) => {
    expect(() => writeR12(sheet)).toThrow(RangeError);
    expect(() => writeR12(sheet)).toThrow(words);
  });

  it('takes names as R12 does', () => {
    expect(['OUTLINE', 'A_1-$', 'X'.repeat(31)].every(isR12Name)).toBe(true);
    expect(['', 'a', 'Ä', 'A B', 'X'.repeat(32)].some(isR12Name)).toBe(false);
  });
});

describe('other readers of what is written', () => {
  it('dxf-parser finds the same areas', () => {
    fc.assert(
      fc.property(path, (p) => {
        const closed = { ...p, closed: true };
        const written = writeR12(sheetOf(drawn(closed)));
        const { shape, vertices } = parsedDxf(written).entities[0]!;
        expect(shape).toBe(true);
        // 2000 chords to an arc leave out 2e-6 of what the arc bounds.
        // And coordinates are written to a millionth of a mm.
        const length = pathLength(closed);
        const size = Math.max(1, length ** 2) + length;
        expect(Math.abs(areaByChords(vertices!) - Math.abs(areaOf(closed)))).toBeLessThan(
          1e-6 * size,
        );
      }),
    );
  });

  it.skipIf(ezdxf.missing)(`ezdxf finds nothing to mend${ezdxf.note}`, () => {
    const sheets = fc
      .sample(fc.array(path, { minLength: 1, maxLength: 4 }), { numRuns: 20, seed: 5 })
      .map((paths) => sheetOf(...paths.map(drawn), note('Türschweller 50 %% ±', 45)));
    const readings = refereeReadings(sheets.map(writeR12));
    expect(readings).toHaveLength(sheets.length);
    for (const [i, reading] of readings.entries()) {
      expect(reading.version).toBe('AC1009');
      expect([...reading.errors, ...reading.fixes]).toEqual([]);
      expect(reading.entities.length).toBe(sheets[i]!.entities.length - 1);
    }
  });

  it.skipIf(ezdxf.missing)(`ezdxf reads blocks as placed${ezdxf.note}`, () => {
    const blocks = [{ name: 'TUB', entities: [drawn(square), note('TUB')] }];
    const inserts = [{ block: 'TUB', layer: 'NOTE', at: { x: 100, y: 10 } }];
    const [reading] = refereeReadings([writeR12({ layers, blocks, inserts, entities: [] })]);
    expect(reading!.entities).toMatchObject([{ box: [100, 10, 150, 60], area: 2500 }]);
    expect(reading!.texts).toEqual(['TUB']);
    expect(reading!.errors).toEqual([]);
    // ezdxf drops a SEQEND of its own making for each polyline in a block, in its own R12 files too.
    expect(reading!.fixes.filter((fix) => !fix.includes('SEQEND'))).toEqual([]);
    expect(reading!.extents).toEqual([100, 10, 150, 60]);
  });
});

/** Area by 2000 chords to the arc: slow, and made of nothing but sines and the shoelace sum. */
function areaByChords(vertices: readonly { x: number; y: number; bulge?: number }[]): number {
  const points = vertices.flatMap((from, i) => {
    const to = vertices[(i + 1) % vertices.length]!;
    const b = from.bulge ?? 0;
    if (b === 0) return [from];
    const sweep = 4 * Math.atan(b);
    const chord = Math.hypot(to.x - from.x, to.y - from.y);
    const radius = chord / (2 * Math.sin(sweep / 2));
    const along = Math.atan2(to.y - from.y, to.x - from.x);
    return Array.from({ length: 2000 }, (_, k) => {
      // The chord to share k of the arc turns from the arc's start by half of what is swept.
      const part = (sweep * k) / 2000;
      const reach = 2 * radius * Math.sin(part / 2);
      const angle = along - sweep / 2 + part / 2;
      return { x: from.x + reach * Math.cos(angle), y: from.y + reach * Math.sin(angle) };
    });
  });
  const twice = points.reduce((sum, p, i) => {
    const q = points[(i + 1) % points.length]!;
    return sum + p.x * q.y - q.x * p.y;
  }, 0);
  return Math.abs(twice / 2);
}
