import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { Refusal, wordFinding } from '../../src/base/findings.ts';
import type { Drawing } from '../../src/drawing/drawing.ts';
import { readDrawing } from '../../src/drawing/read.ts';
import { areaOf } from '../../src/geometry/paths/area.ts';
import { emptyBox, unionBox } from '../../src/geometry/paths/box.ts';
import { boxOfPath, pathLength } from '../../src/geometry/paths/path.ts';
import type { Path } from '../../src/geometry/paths/path.ts';
import { distance } from '../../src/geometry/paths/point.ts';
import { describeDrawing } from '../../src/pattern/first-look/describe.ts';

/** Drawings as other programs write them, with a manifest of what a right reader finds. */
const folder = join(import.meta.dirname, '../data/drawings');

interface LayerFigures {
  readonly closed: number;
  readonly area: number;
  readonly perimeter: number;
  readonly bbox: readonly number[];
}

interface Sample {
  readonly file: string;
  readonly expect: 'read' | 'finding' | 'refuse';
  readonly units: string;
  readonly layers?: Readonly<Record<string, LayerFigures>>;
  readonly texts?: readonly string[];
  readonly naming?: readonly string[];
  readonly raw_closed?: number;
  readonly closed?: number;
  readonly inner?: number;
  readonly area?: number;
  readonly bbox?: readonly number[];
  readonly gap_mm?: number;
  readonly pieces?: readonly string[];
  readonly notches?: number;
  readonly drill_holes?: number;
  readonly grain_lines?: number;
  readonly internal_lines?: number;
}

interface Manifest {
  readonly tolerances: { readonly area_rel: number; readonly bbox_mm: number };
  readonly files: readonly Sample[];
}

const { files, tolerances }: Manifest = JSON.parse(
  readFileSync(join(folder, 'manifest.json'), 'utf8'),
);

/** What the reader hands on as it is drawn, and a later step must join, compare or convert. */
const forLater: Readonly<Record<string, (drawing: Drawing, sample: Sample) => void>> = {
  'r2010-chain-gaps.dxf': (drawing, sample) => {
    for (const [layer, { perimeter }] of Object.entries(sample.layers!)) {
      const loose = pathsOn(drawing, layer);
      expect(loose.every(({ closed }) => !closed)).toBe(true);
      const length = loose.reduce((sum, path) => sum + pathLength(path), 0);
      // Gaps of 0.005 mm between the pieces.
      expect(Math.abs(length - perimeter)).toBeLessThan(0.005 * loose.length);
    }
  },
  'r12-duplicates.dxf': (drawing, sample) => {
    const { area } = sample.layers!['OUTLINE']!;
    const outlines = pathsOn(drawing, 'OUTLINE');
    expect(outlines.length).toBe(sample.raw_closed);
    for (const outline of outlines) expect(near(areaOf(outline), area)).toBe(true);
  },
  'r2010-open-3mm.dxf': (drawing, sample) => {
    const [outline] = pathsOn(drawing, 'OUTLINE');
    expect(outline!.closed).toBe(false);
    expect(distance(outline!.vertices[0]!, outline!.vertices.at(-1)!)).toBeCloseTo(
      sample.gap_mm!,
      6,
    );
  },
};

function pathsOn({ entities }: Drawing, layer: string): Path[] {
  return entities.flatMap((entity) =>
    entity.kind === 'path' && entity.layer === layer ? [entity.path] : [],
  );
}

function near(value: number, expected: number): boolean {
  return Math.abs(value - expected) <= tolerances.area_rel * expected;
}

function pointsOn({ entities }: Drawing, layer: string): number {
  return entities.filter((entity) => entity.kind === 'point' && entity.layer === layer).length;
}

function checkLayers(drawing: Drawing, layers: Readonly<Record<string, LayerFigures>>): void {
  for (const [layer, figures] of Object.entries(layers)) {
    const closed = pathsOn(drawing, layer).filter((path) => path.closed);
    const sum = (measure: (path: Path) => number): number =>
      closed.reduce((total, path) => total + measure(path), 0);
    expect(closed.length).toBe(figures.closed);
    expect(near(sum(areaOf), figures.area)).toBe(true);
    expect(near(sum(pathLength), figures.perimeter)).toBe(true);
    const box = Object.values(closed.map(boxOfPath).reduce(unionBox, emptyBox));
    for (const [i, side] of box.entries()) {
      expect(Math.abs(side - figures.bbox[i]!)).toBeLessThan(tolerances.bbox_mm);
    }
  }
}

function checkPieces(drawing: Drawing, sample: Sample): void {
  if (sample.pieces === undefined) return;
  expect(drawing.blocks.map(({ name }) => name)).toEqual(sample.pieces);
  // ASTM D6673 numbers its layers: 4 notches, 7 grain line, 8 internal lines, 13 drill holes [S].
  expect(pointsOn(drawing, '4')).toBe(sample.notches);
  expect(pointsOn(drawing, '13')).toBe(sample.drill_holes);
  expect(pathsOn(drawing, '7').length).toBe(sample.grain_lines);
  expect(pathsOn(drawing, '8').length).toBe(sample.internal_lines);
}

function checkUnits({ units, unitsFrom, findings }: Drawing, sample: Sample): void {
  const texts = sample.texts?.some((text) => /^units:/i.test(text));
  if (sample.units !== 'unstated') {
    expect({ units, unitsFrom }).toEqual({
      units: sample.units === 'inch' ? 'in' : sample.units,
      unitsFrom: 'header',
    });
  } else if (unitsFrom !== 'text') {
    expect(texts ?? false).toBe(false);
    expect({ units, unitsFrom }).toEqual({ units: 'mm', unitsFrom: 'assumed' });
    expect(findings.some(({ rule }) => rule === 'units-assumed')).toBe(true);
  }
}

function checkNaming(words: string, sample: Sample): void {
  expect(sample.naming!.some((name) => words.toLowerCase().includes(name.toLowerCase()))).toBe(
    true,
  );
}

function checkRead(drawing: Drawing, sample: Sample): void {
  checkUnits(drawing, sample);
  const later = forLater[sample.file];
  if (later !== undefined) return later(drawing, sample);
  checkLayers(drawing, sample.layers ?? {});
  checkPieces(drawing, sample);
  const texts = drawing.entities.flatMap((entity) => (entity.kind === 'text' ? [entity.text] : []));
  for (const text of sample.texts ?? []) expect(texts).toContain(text);
  if (sample.expect === 'finding') checkNaming(drawing.findings.map(wordFinding).join(' '), sample);
  expect(drawing.findings.filter(({ severity }) => severity === 'error')).toEqual([]);
}

describe('sample drawings', () => {
  it('are all listed in the manifest', () => {
    const drawings = readdirSync(folder).filter((name) => name.endsWith('.dxf'));
    expect(files.map(({ file }) => file).sort()).toEqual(drawings.sort());
  });

  it.each(files.map((sample) => [sample.file, sample] as const))('%s', (name, sample) => {
    const file = join(folder, name);
    if (sample.expect !== 'refuse') return checkRead(readDrawing(file), sample);
    expect(() => readDrawing(file)).toThrow(Refusal);
    try {
      readDrawing(file);
    } catch (error) {
      checkNaming((error as Refusal).message, sample);
      expect((error as Refusal).findings[0]!.where).toMatchObject({
        file,
        line: expect.any(Number),
      });
    }
  });
});

describe('sample drawings made outlines of', () => {
  const listed = files.filter(({ expect: kind }) => kind !== 'refuse');
  it.each(listed)('$file', (sample) => {
    const drawing = readDrawing(join(folder, sample.file));
    const { report } = describeDrawing(drawing, new Map(), { gap: 0.05 });
    if (sample.expect === 'finding')
      checkNaming(report.findings.map(wordFinding).join(' '), sample);
    if (sample.closed === undefined) return;
    const inner = report.pieces.flatMap((piece) => piece.inner);
    expect(inner.length).toBe(sample.inner);
    expect(report.pieces.length).toBe(sample.closed - sample.inner!);
    const areas = [...report.pieces.map(({ outline }) => outline), ...inner];
    expect(
      near(
        areas.reduce((sum, { area }) => sum + area, 0),
        sample.area!,
      ),
    ).toBe(true);
    for (const [i, side] of sample.bbox!.entries()) {
      const sides = report.pieces.map(({ outline }) => outline.bbox[i]!);
      const whole = i < 2 ? Math.min(...sides) : Math.max(...sides);
      expect(Math.abs(whole - side)).toBeLessThan(tolerances.bbox_mm);
    }
    if (sample.gap_mm === undefined) return;
    expect(report.findings.map(wordFinding).join(' ')).toContain(`gap of ${sample.gap_mm} mm`);
  });
});
