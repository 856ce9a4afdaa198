import * as fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Entity } from '../../../src/drawing/drawing.ts';
import { readDrawingText } from '../read-text.ts';
import type { NamedLayer } from '../../../src/drawing/writing/named-layers.ts';
import { isLayerName } from '../../../src/drawing/writing/named-layers.ts';
import { writeByLayer } from '../../../src/drawing/writing/write-by-layer.ts';
import { writeR2007 } from '../../../src/drawing/writing/write-r2007.ts';
import { areaOf } from '../../../src/geometry/paths/area.ts';
import type { Path } from '../../../src/geometry/paths/path.ts';
import { circle, polyline } from '../../../src/geometry/paths/path.ts';
import { contourArea } from '../../support/contours.ts';
import { outline, point } from '../../geometry/arbitrary.ts';
import { ezdxf, refereeReadings } from '../ezdxf.ts';
import { parsedDxf } from '../../support/dxf-parser.ts';

const layers: NamedLayer[] = [
  { name: 'OUTLINE', colour: 1 },
  { name: 'AXIS', colour: 5 },
  { name: 'NOTE', colour: 255 },
];

const drawn = (path: Path, layer = 'OUTLINE'): Entity => ({ kind: 'path', layer, line: 0, path });
const dot = (at: { x: number; y: number }): Entity => {
  return { kind: 'point', layer: 'NOTE', line: 0, at };
};
const note = (text: string, deg = 0): Entity => {
  return { kind: 'text', layer: 'NOTE', line: 0, at: { x: 1, y: 2 }, text, height: 5, deg };
};

/** Outlines whole and opened, points, and texts, in any order. */
const entity: fc.Arbitrary<Entity> = fc.oneof(
  outline.map((path) => drawn(path)),
  outline.map(({ vertices }) => {
    const last = { ...vertices.at(-1)!, bulge: 0 };
    return drawn({ closed: false, vertices: [...vertices.slice(0, -1), last] }, 'AXIS');
  }),
  point.map(dot),
  fc.tuple(point, fc.double({ min: 0, max: 359, noNaN: true })).map(([at, deg]): Entity => {
    return { kind: 'text', layer: 'NOTE', line: 0, at, text: 'MAT left', height: 12.5, deg };
  }),
);
const entities = fc.array(entity, { maxLength: 6 });

const read = (text: string): readonly Entity[] => readDrawingText(text, 'sheet.dxf').entities;

const asGiven = (given: readonly Entity[]): readonly Entity[] => given;
const byLayer = (given: readonly Entity[]): readonly Entity[] =>
  layers.flatMap(({ name }) => given.filter(({ layer }) => layer === name));

describe.each([
  { name: 'in the order given', write: writeR2007, inOrder: asGiven },
  { name: 'layer by layer', write: writeByLayer, inOrder: byLayer },
])('a drawing of the newer flavour, $name', ({ write, inOrder }) => {
  describe('writing and reading', () => {
    it('gives outlines of the same area in their order', () => {
      fc.assert(
        fc.property(fc.array(outline, { maxLength: 5 }), (paths) => {
          const given = paths.map((path, i) => drawn(path, i % 2 === 0 ? 'OUTLINE' : 'AXIS'));
          const back = read(write(given, layers));
          const expected = inOrder(given);
          expect(back.map(({ layer }) => layer)).toEqual(expected.map(({ layer }) => layer));
          for (const [i, one] of back.entries()) {
            const [was, is] = [expected[i]!, one].map((e) =>
              e.kind === 'path' ? areaOf(e.path) : 0,
            );
            expect(Math.abs(is! / was! - 1)).toBeLessThan(1e-6);
          }
        }),
      );
    });

    it('keeps every vertex to a millionth, what is open open, and arcs as arcs', () => {
      fc.assert(
        fc.property(outline, fc.boolean(), (path, closed) => {
          const vertices = path.vertices.map((v, i) =>
            closed || i < path.vertices.length - 1 ? v : { ...v, bulge: 0 },
          );
          const [back] = read(write([drawn({ closed, vertices })], layers));
          expect(back).toMatchObject({ kind: 'path', path: { closed } });
          for (const [i, { x, y, bulge }] of (back as { path: Path }).path.vertices.entries()) {
            expect(Math.abs(x - vertices[i]!.x)).toBeLessThanOrEqual(1e-6);
            expect(Math.abs(y - vertices[i]!.y)).toBeLessThanOrEqual(1e-6);
            expect(Math.abs(bulge - vertices[i]!.bulge)).toBeLessThanOrEqual(1e-9);
          }
        }),
      );
    });

    it('makes a point of a path of one vertex', () => {
      const path = polyline([{ x: 3, y: 4 }], false);
      expect(read(write([drawn(path)], layers))).toMatchObject([
        { kind: 'point', layer: 'OUTLINE', at: { x: 3, y: 4 } },
      ]);
    });

    it('gives the same texts, whatever their letters, a line each', () => {
      const text = fc
        .string({ unit: 'grapheme', minLength: 1 })
        .filter((one) => !/[\p{Cc}]/u.test(one));
      fc.assert(
        fc.property(text, text, (first, second) => {
          const written = write([note(`${first}\n${second}`, 30)], layers);
          expect(written).toMatch(/^[\n -~]*$/);
          const common = { kind: 'text', height: 5, deg: 30, layer: 'NOTE' };
          expect(read(written)).toMatchObject([
            { ...common, text: first },
            { ...common, text: second },
          ]);
        }),
      );
    });

    it('states millimetres, so that nothing has to be taken for granted', () => {
      const drawing = readDrawingText(write([note('MAT')], layers), 'sheet.dxf');
      expect(drawing).toMatchObject({ units: 'mm', unitsFrom: 'header', findings: [] });
    });
  });

  describe('the file', () => {
    it('is the same text for the same drawing, whatever was written before', () => {
      fc.assert(
        fc.property(entities, entities, (some, others) => {
          const first = write(some, layers);
          write(others, layers);
          expect(write(structuredClone(some), layers)).toBe(first);
        }),
      );
    });

    it('has plain decimals for numbers, however small', () => {
      const tiny = [1e-7, -1e-7, 1e-9, 5e-324, -0, 123456.0000004];
      const value = fc.oneof(fc.constantFrom(...tiny), fc.double({ min: -1e6, max: 1e6 }));
      fc.assert(
        fc.property(value, value, fc.constantFrom(0, 1e-7, -3e-8, 0.5), (x, y, bulge) => {
          fc.pre(!Number.isNaN(x + y));
          const vertices = [
            { x, y, bulge },
            { x: x + 10, y, bulge: 0 },
          ];
          const lines = write([drawn({ closed: true, vertices })], layers)
            .split('\n')
            .map((line) => line.trim());
          const values = lines.filter((_, i) => /^(10|20|42)$/.test(lines[i - 1]!) && i % 2 === 1);
          expect(values.length).toBeGreaterThanOrEqual(6);
          for (const one of values) expect(one).toMatch(/^-?\d+(\.\d{1,9})?$/);
        }),
      );
    });

    it.each([Number.NaN, Infinity, -Infinity])('is never made with %f in it', (bad) => {
      const path = polyline(
        [0, 1, 2].map((i) => ({ x: i, y: i === 1 ? bad : 0 })),
        true,
      );
      const bent = {
        closed: true,
        vertices: path.vertices.map(({ x }) => ({ x, y: 0, bulge: bad })),
      };
      for (const one of [
        drawn(path),
        drawn(bent),
        dot({ x: bad, y: 0 }),
        note('MAT', bad),
        { ...note('MAT'), height: bad } as Entity,
      ]) {
        expect(() => write([one], layers)).toThrow(RangeError);
      }
    });

    it.each<[string, Entity[], NamedLayer[], RegExp]>([
      ['a layer that is not given', [drawn(circle({ x: 0, y: 0 }, 5))], [], /no layer OUTLINE/],
      ['a path of nothing', [drawn(polyline([], false))], layers, /without a course/],
      [
        'a ring of one vertex',
        [drawn(polyline([{ x: 0, y: 0 }], true))],
        layers,
        /without a course/,
      ],
      ['colour 0', [], [{ ...layers[0]!, colour: 0 }], /colour 0/],
      ['half a colour', [], [{ ...layers[0]!, colour: 1.5 }], /colour 1\.5/],
      ['two layers of one name', [], [...layers, { ...layers[0]!, name: 'outline' }], /two layers/],
      ['a layer of no name', [], [{ ...layers[0]!, name: '' }], /no layer named/],
    ])('is not made of %s', (_, some, given, words) => {
      expect(() => write(some, given)).toThrow(RangeError);
      expect(() => write(some, given)).toThrow(words);
    });

    it('takes names as DXF does', () => {
      expect(['OUTLINE', 'Cut-out left', 'Maß_2', 'X'.repeat(255)].every(isLayerName)).toBe(true);
      expect(
        ['', 'a/b', 'a|b', 'a\nb', 'a=b', '__proto__', 'X'.repeat(256)].some(isLayerName),
      ).toBe(false);
    });

    it('loses nothing on layers with names that objects have', () => {
      const names = ['constructor', 'toString', 'hasOwnProperty', '0', '12'];
      const some = names.map((name, i) => drawn(circle({ x: 100 * i, y: 0 }, 5), name));
      const given = names.map((name): NamedLayer => ({ name, colour: 3 }));
      expect(
        read(write(some, given))
          .map(({ layer }) => layer)
          .sort(),
      ).toEqual(names.sort());
    });
  });

  describe('other readers of what is written', () => {
    it('dxf-parser finds the same areas, layers, colours and units', () => {
      fc.assert(
        fc.property(outline, (path) => {
          const written = write([drawn(path), dot({ x: 7, y: 8 })], layers);
          const { header, tables, entities: found } = parsedDxf(written);
          expect(header['$INSUNITS']).toBe(4);
          for (const { name, colour } of layers) {
            expect(tables.layer.layers[name]?.colorIndex).toBe(colour);
          }
          expect(found[0]).toMatchObject({ type: 'LWPOLYLINE', layer: 'OUTLINE', shape: true });
          const contour = found[0]!.vertices!.map(({ x, y, bulge = 0 }) => ({ x, y, bulge }));
          expect(Math.abs(contourArea(contour) / areaOf(path) - 1)).toBeLessThan(1e-6);
          expect(found[1]).toMatchObject({
            type: 'POINT',
            layer: 'NOTE',
            position: { x: 7, y: 8 },
          });
        }),
      );
    });

    it.skipIf(ezdxf.missing)(`ezdxf finds nothing to mend${ezdxf.note}`, () => {
      const drawings = fc.sample(entities, { numRuns: 20, seed: 5 });
      const accented = [...drawings, [note('Türschweller 50 %% ±', 45)], [note('MAT\nleft', 45)]];
      const readings = refereeReadings(accented.map((some) => write(some, layers)));
      for (const [i, reading] of readings.entries()) {
        expect(reading.version).toBe('AC1021');
        expect([...reading.errors, ...reading.fixes]).toEqual([]);
        const shapes = accented[i]!.filter(({ kind }) => kind !== 'text');
        expect(reading.entities.map(({ layer }) => layer).sort()).toEqual(
          shapes.map(({ layer }) => layer).sort(),
        );
      }
      expect(readings.at(-1)!.texts).toEqual(['MAT', 'left']);
    });

    it.skipIf(ezdxf.missing)(`ezdxf finds the same area and extents${ezdxf.note}`, () => {
      const [reading] = refereeReadings([write([drawn(circle({ x: 100, y: 50 }, 20))], layers)]);
      // Flattened by ezdxf to 0.005 mm: less than that all round.
      expect(Math.abs(reading!.entities[0]!.area - Math.PI * 400)).toBeLessThan(
        0.005 * 2 * Math.PI * 20,
      );
      expect(reading!.extents).toEqual([80, 30, 120, 70]);
    });
  });
});
