import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { deriveSet } from '../../src/jobs/derive.ts';
import { readDrawing } from '../../src/drawing/read.ts';
import { Refusal } from '../../src/base/findings.ts';
import { areaOf } from '../../src/geometry/paths/area.ts';
import { boxOfPath, pathLength } from '../../src/geometry/paths/path.ts';
import { numberedChordError } from '../../src/handing/redrawing/numbered-drawing.ts';
import { headingOf } from '../../src/geometry/paths/angle.ts';
import { distance, plus, times } from '../../src/geometry/paths/point.ts';
import type { ImportRequest, Imported } from '../../src/jobs/import.ts';
import { importSet } from '../../src/jobs/import.ts';
import { describeDrawing } from '../../src/pattern/first-look/describe.ts';
import { readSet } from '../../src/pattern/set.ts';
import type { Tag } from '../drawing/dxf.ts';
import { block, dxf, halfTrapezium, inMm, insert, line, lwpolyline, text } from '../drawing/dxf.ts';
import { inFolder, wren } from '../support/wren.ts';

const tub = lwpolyline(
  [
    [0, 0, 0],
    [400, 0, 0.2],
    [400, 300, 0],
    [0, 300, 0],
  ],
  true,
);

/** A text inside the tub, on the numbered layer of outlines. */
function tubText(words: string, y = 20): Tag[] {
  return text(words, 20, y, 10, '1');
}

function notch(x: number, y: number, more: readonly Tag[]): Tag[] {
  return [[0, 'POINT'], [8, '4'], [10, x], [20, y], ...more];
}

const drawing = dxf({
  header: inMm,
  blocks: [
    block('A', [
      tub,
      tubText('Piece Name: Tub Ü'),
      tubText('QUANTITY: 1,1', 40),
      tubText('Material: loop', 60),
    ]),
    block('SILL-L', [tub]),
    block('SILL RH', [
      tub,
      notch(200, 0, [
        [30, 6],
        [50, 270],
      ]),
      notch(0, 150, [[30, 4]]),
    ]),
    block('MAT', [tub, tubText('Quantity: 3,0')]),
  ],
  entities: ['A', 'SILL-L', 'SILL RH', 'MAT'].map((name, i) => insert(name, 1000 * i, 0)),
});

async function imported<T>(
  words: string,
  use: (made: Imported, root: string) => T,
  more: Partial<ImportRequest> = {},
): Promise<T> {
  return inFolder(wren, (root) => {
    writeFileSync(join(root, 'customer.dxf'), words);
    const made = importSet({
      file: join(root, 'customer.dxf'),
      folder: join(root, 'patterns/customer'),
      sharedFolder: join(root, 'shared'),
      units: undefined,
      drawn: undefined,
      gap: 0.05,
      ...more,
    });
    return use(made, root);
  });
}

describe('a first set', () => {
  it('has every piece, with sides from quantities and names, and says what is guessed', async () => {
    await imported(drawing, ({ pieces }, root) => {
      expect(pieces.map(({ name, side, quantity }) => [name, side.value, quantity])).toEqual([
        ['tub-u', 'pair', 1],
        ['sill-l', 'left', 1],
        ['sill-rh', 'right', 1],
        ['mat', 'centre', 3],
      ]);
      expect(pieces.map(({ material }) => material)).toEqual([
        { value: 'loop', why: null },
        ...Array.from({ length: 3 }, () => ({ value: 'board', why: 'the drawing names none' })),
      ]);
      const words = readFileSync(join(root, 'patterns/customer/set.yaml'), 'utf8');
      expect(words.match(/# guess: /g)!.length).toBe(2 + 5 + 3);
    });
  });

  it('is read again as it was seen, notches as deep and as they point', async () => {
    await imported(drawing, (_, root) => {
      const { pieces } = readSet(join(root, 'patterns/customer'), join(root, 'shared'));
      const [first, ...rest] = pieces.map(({ outline }) => areaOf(outline));
      for (const area of rest) expect(area).toBeCloseTo(first!, 6);
      const notches = pieces[2]!.features.filter(({ role }) => role === 'NOTCH');
      const ends = notches.map(({ path }) => path.vertices.map(({ x, y }) => [x, y]));
      // The first is drawn pointing out and goes in all the same; the second square to its edge.
      expect(ends).toEqual([
        [
          [2200, 0],
          [2200, 6],
        ],
        [
          [2000, 150],
          [2004, 150],
        ],
      ]);
    });
  });

  it('leaves a set that is there alone', async () => {
    await imported(drawing, (_, root) => {
      const request = {
        file: join(root, 'customer.dxf'),
        folder: join(root, 'patterns/wren'),
        sharedFolder: join(root, 'shared'),
        units: undefined,
        drawn: undefined,
        gap: 0.05,
      };
      const before = readFileSync(join(root, 'patterns/wren/set.yaml'), 'utf8');
      expect(() => importSet(request)).toThrow(/exists already/);
      expect(readFileSync(join(root, 'patterns/wren/set.yaml'), 'utf8')).toBe(before);
    });
  });

  const open = lwpolyline(
    [
      [0, 0, 0],
      [400, 0, 0],
      [400, 300, 0],
    ],
    false,
  );
  it.each<[string, string, RegExp]>([
    ['without units', dxf({ entities: [tub] }), /in which units.*--units mm/],
    [
      'with nothing closed',
      dxf({
        header: inMm,
        entities: [
          [
            [0, 'POINT'],
            [8, 'X'],
            [10, 0],
            [20, 0],
          ],
        ],
      }),
      /no closed outline/,
    ],
    ['with an open outline', dxf({ header: inMm, entities: [tub, open] }), /gap of 500 mm/],
    ['that is none', 'Dear customer', /EOF/],
  ])('is not made of a drawing %s', async (_, words, says) => {
    await inFolder(wren, (root) => {
      writeFileSync(join(root, 'customer.dxf'), words);
      const folder = join(root, 'patterns/customer');
      const request = {
        folder,
        file: join(root, 'customer.dxf'),
        sharedFolder: join(root, 'shared'),
      };
      const make = (): Imported =>
        importSet({ ...request, units: undefined, drawn: undefined, gap: 0.05 });
      expect(make).toThrow(Refusal);
      expect(make).toThrow(says);
      expect(existsSync(folder)).toBe(false);
    });
  });

  it.each(['../away', 'Ä', 'a b', ''])('is not made under the name "%s"', async (name) => {
    await inFolder(wren, (root) => {
      const request = { file: 'x.dxf', folder: join(root, 'patterns', name), sharedFolder: root };
      const make = (): Imported =>
        importSet({ ...request, units: undefined, drawn: undefined, gap: 0.05 });
      expect(make).toThrow(Refusal);
    });
  });
});

describe('parts with numbered layers', () => {
  it('come back with the geometry that they went out with', async () => {
    await inFolder(wren, (root) => {
      const { parts } = deriveSet({
        setFolder: join(root, 'patterns/wren'),
        sharedFolder: join(root, 'shared'),
        out: join(root, 'out'),
        options: { hand: 'LHD', heelPads: 'driver', boards: true, underlay: true },
        force: false,
        as: 'astm',
      });
      const read = readDrawing(join(root, 'out/parts/wren-LHD.dxf'));
      expect(read).toMatchObject({ units: 'mm', unitsFrom: 'text' });
      const { pieces } = describeDrawing(read, new Map(), { gap: 0.05 });
      expect(pieces.map(({ report }) => report.name)).toEqual(parts.map(({ name }) => name));
      for (const [i, { report, outline }] of pieces.entries()) {
        const part = parts[i]!;
        const within = numberedChordError * pathLength(part.cut);
        expect(Math.abs(report.outline.area - areaOf(part.cut))).toBeLessThanOrEqual(within + 1e-6);
        const sides = Object.values(boxOfPath(part.cut));
        for (const [k, side] of report.outline.bbox.entries()) {
          expect(Math.abs(side - sides[k]!)).toBeLessThanOrEqual(numberedChordError);
        }
        // Cutouts, and holes as points with their diameter.
        const drills = outline.others.flatMap((one) =>
          one.kind === 'point' && one.layer === '13' && one.mark
            ? [Math.PI * (one.mark.height / 2) ** 2]
            : [],
        );
        const areas = [...report.inner.map(({ area }) => area), ...drills].sort((a, b) => a - b);
        const inner = part.inner.map(({ path }) => areaOf(path)).sort((a, b) => a - b);
        expect(areas.length).toBe(inner.length);
        for (const [k, area] of areas.entries()) {
          expect(Math.abs(area / inner[k]! - 1)).toBeLessThan(1e-3);
        }
        const notches = outline.others.filter(({ layer }) => layer === '4');
        expect(notches.length).toBe(part.notches.length);
        for (const [k, one] of notches.entries()) {
          const { from, to } = part.notches[k]!;
          if (one.kind !== 'point') throw new Error('a notch is a point');
          expect(distance(one.at, from)).toBeLessThan(1e-6);
          expect(one.mark!.height).toBeCloseTo(distance(from, to), 6);
          // The angle points to its inner end.
          const end = plus(one.at, times(headingOf(one.mark!.deg!), one.mark!.height));
          expect(distance(end, to)).toBeLessThan(1e-4);
        }
      }
      // Somewhere there were all of them.
      expect(parts.some(({ notches }) => notches.length > 0)).toBe(true);
      expect(parts.some(({ inner }) => inner.length > 1)).toBe(true);
    });
  });
});

describe('a set whose drawing shows a block otherwise than it is drawn', () => {
  const write = (root: string, more: readonly Tag[]): void => {
    const parts = { header: inMm, blocks: [block('TUB', [tub])] };
    writeFileSync(
      join(root, 'patterns/wren/tub.dxf'),
      dxf({ ...parts, entities: [insert('TUB', 900, 0, more)] }),
    );
    const setText =
      'title: Tub\ndrawn: RHD\ndrawing: tub.dxf\npieces:\n  tub: { side: centre, material: loop }\n';
    writeFileSync(join(root, 'patterns/wren/set.yaml'), setText);
  };

  it.each<[string, Tag[], boolean]>([
    ['turned', [[50, 30]], false],
    [
      'scaled',
      [
        [41, 25.4],
        [42, 25.4],
      ],
      true,
    ],
    ['stretched', [[42, 1.1]], true],
    ['mirrored', [[41, -1]], true],
  ])('%s', async (_, more, found) => {
    await inFolder(wren, (root) => {
      write(root, more);
      const { findings } = readSet(join(root, 'patterns/wren'), join(root, 'shared'));
      expect(findings.some(({ rule }) => rule === 'placed-otherwise')).toBe(found);
    });
  });
});

describe('a set of numbered layers', () => {
  it('with a mirror line and no word of a half is an error, and with it the whole piece', async () => {
    await inFolder(wren, (root) => {
      const folder = join(root, 'patterns/wren');
      const entities = [halfTrapezium, line(0, 0, 0, 300, '6')];
      writeFileSync(
        join(folder, 'tub.dxf'),
        dxf({ header: inMm, blocks: [block('TUB', entities)], entities: [] }),
      );
      const set = (more: string): ReturnType<typeof readSet> => {
        const setText = `title: Tub\ndrawn: RHD\ndrawing: tub.dxf\npieces:\n  tub: { side: centre, material: loop${more} }\n`;
        writeFileSync(join(folder, 'set.yaml'), setText);
        return readSet(folder, join(root, 'shared'));
      };
      expect(set('').findings.map(({ rule }) => rule)).toContain('half-not-said');
      expect(set('').pieces).toEqual([]);
      // A trapezium of 400 and 300 over 300.
      expect(areaOf(set(', half: true').pieces[0]!.outline)).toBeCloseTo(105_000, 6);
    });
  });
});
