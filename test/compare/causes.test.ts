import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { compareFiles } from '../../src/compare/compare.ts';
import type { Rank } from '../../src/compare/lines.ts';
import { ranksOf } from '../../src/compare/lines.ts';
import { comparisonLines } from '../../src/compare/table.ts';
import type { DxfChange } from './changed-dxf.ts';
import { changedDxf } from './changed-dxf.ts';

/** One line for one cause: the demo's own set, changed as a whole by a transformation of the file's numbers. */

const demo = resolve(import.meta.dirname, '../../patterns/fenlark');
const sharedFolder = resolve(import.meta.dirname, '../../shared');
const root = mkdtempSync(join(tmpdir(), 'causes-'));
afterAll(() => rmSync(root, { recursive: true }));

const drawing = readFileSync(join(demo, 'fenlark.dxf'), 'utf8');
let count = 0;

/** The demo's set with another drawing. */
function setWith(text: string): string {
  const folder = join(root, `set-${count++}`);
  mkdirSync(folder);
  cpSync(join(demo, 'set.yaml'), join(folder, 'set.yaml'));
  writeFileSync(join(folder, 'fenlark.dxf'), text);
  return folder;
}

interface Told {
  readonly sentence: string;
  readonly ranks: readonly Rank[];
  readonly lines: readonly string[];
}

function told(before: string, after: string): Told {
  const { comparison } = compareFiles(before, after, {
    tolerance: 0.01,
    map: new Map(),
    sharedFolder,
  });
  return {
    sentence: comparison.sentence,
    ranks: ranksOf(comparison.differences),
    lines: comparisonLines(comparison),
  };
}

/** Of each rank what is told, and how many lines it takes. */
function counts({ ranks }: Told): [string, number][] {
  return ranks.map(({ matter, lines }) => [matter, lines.length]);
}

const scale = (factor: number): DxfChange => ({
  x: (x) => factor * x,
  y: (_, y) => factor * y,
  places: true,
});
const mirror: DxfChange = { x: (x) => 0 - x, bulge: (b) => 0 - b, places: true };
const moved: DxfChange = { x: (x) => x + 40 };
const turned: DxfChange = { x: (_, y) => -y, y: (x) => x };

describe('the whole demo set', () => {
  it.each<[string, DxfChange, string, RegExp]>([
    ['25.4 times as large', scale(25.4), 'machine', /^everything is 25\.4 times as large/],
    ['1.02 times as large', scale(1.02), 'machine', /^everything is 1\.02 times as large/],
    ['half as large', scale(0.5), 'machine', /^everything is 2 times smaller/],
    ['mirrored', mirror, 'mirrored', /^everything is mirrored/],
    ['moved', moved, 'places', /^everything is moved by 40 mm to the right/],
    ['turned', turned, 'places', /^everything is turned by 90 degrees counter-clockwise/],
  ])('is told in one line: %s', (_, change, rank, words) => {
    const found = told(demo, setWith(changedDxf(drawing, change)));
    const geometry = found.ranks.filter(({ matter }) => matter !== 'words');
    expect(geometry.map(({ matter, lines }) => [matter, lines.length])).toEqual([[rank, 1]]);
    expect(geometry[0]!.lines[0]!.words).toMatch(words);
    expect(found.sentence.toLowerCase()).toContain(words.source.slice(1, 15).toLowerCase());
  });

  it('is told in one line as a drawing too', () => {
    const [before, after] = [drawing, changedDxf(drawing, mirror)].map((text) => {
      const file = join(root, `drawing-${count++}.dxf`);
      writeFileSync(file, text);
      return file;
    });
    const found = told(before!, after!);
    expect(counts(found)).toEqual([['mirrored', 1]]);
    expect(found.sentence).toMatch(/^Do not mix them: everything is mirrored/);
  });

  it('is told with what is not so moved besides', () => {
    // One polyline of the file keeps its place: a part of one piece.
    const found = told(demo, setWith(changedDxf(drawing, { ...moved, keep: (k) => k === 3 })));
    const all = found.ranks.flatMap(({ lines }) => lines);
    expect(all.filter(({ words }) => words.startsWith('everything is moved'))).toHaveLength(1);
    expect(all.length).toBeGreaterThan(1);
    expect(all.length).toBeLessThan(5);
  });

  it('begins with what matters, under a heading for each rank', () => {
    const { lines, sentence } = told(demo, setWith(changedDxf(drawing, scale(25.4))));
    expect(lines[0]).toBe(sentence);
    expect(lines[2]).toBe('Machine and cloth');
  });
});

it('a mark with another name beside it is one line among the words', () => {
  const found = told(demo, setWith(drawing.replace('sill-screw', 'sill-bolt')));
  const { lines } = found.ranks.find(({ matter }) => matter === 'words')!;
  expect(found.ranks.map(({ matter }) => matter)).toEqual(['words']);
  const renamed = lines.filter(({ words }) => words.includes('was called "sill-screw"'));
  expect(renamed).toHaveLength(1);
});
