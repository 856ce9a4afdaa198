import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Drawing, PathEntity } from '../../src/drawing/drawing.ts';
import { readDrawing } from '../../src/drawing/read.ts';
import { signedArea } from '../../src/geometry/paths/area.ts';
import { emptyBox, unionBox } from '../../src/geometry/paths/box.ts';
import { boxOfPath, pathLength } from '../../src/geometry/paths/path.ts';
import { parsedDxf } from '../support/dxf-parser.ts';
import { ezdxf, refereeReadings } from './ezdxf.ts';

/** Two other readers, ezdxf and dxf-parser, on every sample that is read. */
const folder = join(import.meta.dirname, '../data/drawings');

interface Listed {
  readonly file: string;
  readonly expect: string;
  readonly to_mm: number;
  readonly layers?: Readonly<Record<string, unknown>>;
  readonly gap_mm?: number;
}

const manifest: { readonly files: readonly Listed[] } = JSON.parse(
  readFileSync(join(folder, 'manifest.json'), 'utf8'),
);
const files = manifest.files.filter((sample) => sample.expect !== 'refuse');

/** Line ends as a program sees them that opens the file as text. */
function plainText(file: string): string {
  return readFileSync(join(folder, file), 'latin1').replaceAll('\r\n', '\n');
}

/** Whether the manifest knows of outlines, closed or open: not all drawings have any. */
function hasOutlines(file: string): boolean {
  const { layers = {}, gap_mm: gap } = files.find((one) => one.file === file)!;
  return Object.keys(layers).length > 0 || gap !== undefined;
}

interface Figures {
  readonly count: number;
  readonly area: number;
  readonly length: number;
  readonly box: readonly number[];
}

function oursOn({ entities }: Drawing, layer: string): Figures {
  const paths = entities.filter(
    (entity): entity is PathEntity => entity.kind === 'path' && entity.layer === layer,
  );
  const sum = (of: (entity: PathEntity) => number): number =>
    paths.reduce((total, entity) => total + of(entity), 0);
  const box = paths.map(({ path }) => boxOfPath(path)).reduce(unionBox, emptyBox);
  return {
    count: paths.length,
    area: sum(({ path }) => (path.closed ? Math.abs(signedArea(path)) : 0)),
    length: sum(({ path }) => pathLength(path)),
    box: [box.minX, box.minY, box.maxX, box.maxY],
  };
}

function expectSame(ours: Figures, other: Figures): void {
  expect(ours.count).toBe(other.count);
  expect(Math.abs(ours.area - other.area)).toBeLessThanOrEqual(5e-4 * other.area + 1e-6);
  expect(Math.abs(ours.length - other.length)).toBeLessThanOrEqual(5e-4 * other.length);
  for (const [i, side] of ours.box.entries()) {
    expect(Math.abs(side - other.box[i]!)).toBeLessThan(0.02);
  }
}

function layersOf({ entities }: Drawing): string[] {
  const paths = entities.filter(({ kind }) => kind === 'path');
  return [...new Set(paths.map(({ layer }) => layer))];
}

describe('the samples as others read them', () => {
  const readings = ezdxf.missing ? [] : refereeReadings(files.map(({ file }) => plainText(file)));

  it.skipIf(ezdxf.missing).each(files)(`$file, ezdxf${ezdxf.note}`, ({ file, to_mm: toMm }) => {
    const drawing = readDrawing(join(folder, file));
    const referee = readings[files.findIndex((one) => one.file === file)];
    const layers = layersOf(drawing);
    expect(layers.length > 0).toBe(hasOutlines(file));
    for (const layer of layers) {
      const own = referee!.entities.filter(
        (entity) => entity.layer === layer && !['POINT', 'HATCH'].includes(entity.type),
      );
      const closed = new Set(
        drawing.entities.flatMap((e) =>
          e.kind === 'path' && e.layer === layer && e.path.closed ? [e] : [],
        ),
      );
      expectSame(oursOn(drawing, layer), {
        count: own.length,
        area: closed.size === 0 ? 0 : own.reduce((sum, e) => sum + Math.abs(e.area), 0) * toMm ** 2,
        length: own.reduce((sum, { length }) => sum + length, 0) * toMm,
        box: [0, 1, 2, 3].map((i) => {
          const sides = own.map(({ box }) => box[i]!);
          return (i < 2 ? Math.min(...sides) : Math.max(...sides)) * toMm;
        }),
      });
    }
  });

  it.each(files.filter(({ file }) => !/insert|spline|astm/.test(file)))(
    '$file, dxf-parser',
    ({ file, to_mm: toMm }) => {
      const drawing = readDrawing(join(folder, file));
      const parsed = parsedDxf(plainText(file));
      const layers = layersOf(drawing);
      expect(layers.length > 0).toBe(hasOutlines(file));
      for (const layer of layers) {
        const own = parsed.entities
          .filter((entity) => entity.layer === layer)
          .flatMap((entity) => figuresOf(entity as unknown as Parsed));
        const sum = (of: (figures: Figures) => number): number =>
          own.reduce((total, figures) => total + of(figures), 0);
        const side = (i: number): number => {
          const sides = own.map(({ box }) => box[i]!);
          return (i < 2 ? Math.min(...sides) : Math.max(...sides)) * toMm;
        };
        expectSame(oursOn(drawing, layer), {
          count: own.length,
          area: sum(({ area }) => area) * toMm ** 2,
          length: sum(({ length }) => length) * toMm,
          box: [0, 1, 2, 3].map(side),
        });
      }
    },
  );
});

/** What dxf-parser gives of the entities that the samples have. */
interface Parsed {
  readonly type: string;
  readonly vertices?: readonly {
    readonly x: number;
    readonly y: number;
    readonly bulge?: number;
  }[];
  readonly shape?: boolean;
  readonly center?: { readonly x: number; readonly y: number };
  readonly radius?: number;
  readonly startAngle?: number;
  readonly endAngle?: number;
}

/** Measured here by points along the curve, by none of the product's geometry. */
function figuresOf(entity: Parsed): Figures[] {
  const points = pointsOf(entity);
  if (points === undefined) return [];
  const closed = entity.type === 'CIRCLE' || entity.shape === true;
  const ring = closed ? [...points, points[0]!] : points;
  let [twice, length] = [0, 0];
  for (const [i, b] of ring.slice(1).entries()) {
    const a = ring[i]!;
    const origin = ring[0]!;
    twice += (a.x - origin.x) * (b.y - origin.y) - (b.x - origin.x) * (a.y - origin.y);
    length += Math.hypot(b.x - a.x, b.y - a.y);
  }
  const [xs, ys] = [points.map(({ x }) => x), points.map(({ y }) => y)];
  const box = [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
  return [{ count: 1, area: closed ? Math.abs(twice) / 2 : 0, length, box }];
}

function pointsOf(entity: Parsed): { x: number; y: number }[] | undefined {
  const round = (from: number, to: number): { x: number; y: number }[] =>
    Array.from({ length: 2001 }, (_, i) => {
      const angle = from + ((to - from) * i) / 2000;
      const { center, radius } = entity;
      return { x: center!.x + radius! * Math.cos(angle), y: center!.y + radius! * Math.sin(angle) };
    });
  switch (entity.type) {
    case 'LINE':
      return [...entity.vertices!];
    case 'CIRCLE':
      return round(0, 2 * Math.PI);
    case 'ARC': {
      const { startAngle: from, endAngle: to } = entity;
      return round(from!, to! > from! ? to! : to! + 2 * Math.PI);
    }
    case 'LWPOLYLINE':
    case 'POLYLINE':
      return bulgedPoints(entity);
    default:
      return undefined;
  }
}

/** Each arc by 500 points of its circle: radius chord (1 + b2) / (4 |b|), from the bulge's definition. */
function bulgedPoints({ vertices = [], shape }: Parsed): { x: number; y: number }[] {
  return vertices.flatMap((a, i) => {
    const b = vertices[i + 1] ?? (shape === true ? vertices[0]! : undefined);
    const bulge = a.bulge ?? 0;
    if (b === undefined || bulge === 0) return [{ x: a.x, y: a.y }];
    const rise = (1 - bulge * bulge) / (4 * bulge);
    const centre = {
      x: (a.x + b.x) / 2 - (b.y - a.y) * rise,
      y: (a.y + b.y) / 2 + (b.x - a.x) * rise,
    };
    const radius = Math.hypot(a.x - centre.x, a.y - centre.y);
    const start = Math.atan2(a.y - centre.y, a.x - centre.x);
    return Array.from({ length: 500 }, (_, k) => {
      const angle = start + (4 * Math.atan(bulge) * k) / 500;
      return { x: centre.x + radius * Math.cos(angle), y: centre.y + radius * Math.sin(angle) };
    });
  });
}
