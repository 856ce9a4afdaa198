import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { DeriveRequest } from '../../src/jobs/derive.ts';
import type { Finding } from '../../src/base/findings.ts';
import { checkSet } from '../../src/jobs/check.ts';
import { deriveSet } from '../../src/jobs/derive.ts';
import { readDrawing } from '../../src/drawing/read.ts';
import { areaOf } from '../../src/geometry/paths/area.ts';
import { boxOfPath } from '../../src/geometry/paths/path.ts';
import type { Hand } from '../../src/pattern/words.ts';
import { line, on } from '../../patterns/fenlark/pen.ts';
import type { Files } from '../support/wren.ts';
import { inFolder, redrawn, replaced, setFile, wren } from '../support/wren.ts';

const options = { heelPads: 'driver', boards: true, underlay: true } as const;

/** Derives the set in a folder of the workshop into another. */
function derive(
  root: string,
  set: string,
  hand: Hand,
  out: string,
  more: Partial<DeriveRequest> = {},
) {
  return deriveSet({
    setFolder: join(root, set),
    sharedFolder: join(root, 'shared'),
    out: join(root, out),
    options: { ...options, hand },
    force: false,
    as: 'parts',
    ...more,
  });
}

/** Every file of a folder by its name there. */
function filesOf(folder: string): Map<string, string> {
  const names = readdirSync(folder).sort();
  return new Map(names.map((name) => [name, readFileSync(join(folder, name), 'utf8')]));
}

/** Areas (mm2) and boxes of what a part's drawing has on a layer. */
function drawn(root: string, name: string, layer: string) {
  const { entities } = readDrawing(join(root, 'lhd/parts', `${name}.dxf`));
  const paths = entities.flatMap((one) =>
    one.kind === 'path' && one.layer === layer ? [one.path] : [],
  );
  return paths.map((path) => ({ area: areaOf(path), box: boxOfPath(path) }));
}

describe('a derived set', () => {
  it('is not told of notches moved onto the outline, which check shows', async () => {
    const beside = redrawn('MAT', (entities) => [
      ...entities,
      // The rear edge of the mat is at y = 100.
      ...on('NOTCH', line([300, 100.4], [300, 106])),
    ]);
    await inFolder(beside, (root) => {
      const rules = (found: readonly Finding[]): string[] => found.map(({ rule }) => rule);
      const { findings } = derive(root, 'patterns/wren', 'LHD', 'lhd');
      expect(rules(findings)).not.toContain('snapped');
      const checked = checkSet(join(root, 'patterns/wren'), join(root, 'shared'));
      expect(rules(checked.findings)).toContain('snapped');
    });
  });

  it('has a drawing for every part of that hand, and no other', async () => {
    await inFolder(wren, (root) => {
      derive(root, 'patterns/wren', 'LHD', 'lhd');
      // The rest goes with the driver, who sits on the left now; so does the heel pad.
      expect(readdirSync(join(root, 'lhd/parts')).sort()).toEqual([
        'cover-left.dxf',
        'dash.dxf',
        'floor.dxf',
        'mat-left.dxf',
        'mat-pad-left.dxf',
        'mat-right.dxf',
        'rest-board-left.dxf',
        'rest-left.dxf',
      ]);
    });
  });

  it('has what follows the driver on the other side, and what belongs to the body where it was', async () => {
    await inFolder(wren, (root) => {
      derive(root, 'patterns/wren', 'LHD', 'lhd');
      const cutouts = drawn(root, 'floor', 'CUTOUT').map(({ box }) => [box.minX, box.maxX]);
      // CUTOUT-DRIVER was drawn from 300 to 380, CUTOUT-LEFT from -200 to -120.
      expect(cutouts).toContainEqual([-380, -300]);
      expect(cutouts).toContainEqual([-200, -120]);
      expect(cutouts).toHaveLength(2);
      const [outline] = drawn(root, 'floor', 'OUTLINE');
      expect(outline!.area).toBeCloseTo(1100 * 900, 6);
      // Seam 10 at the front, tuck 30 at the sides, raw at the back.
      expect(drawn(root, 'floor', 'CUT')[0]!.area).toBeCloseTo(1160 * 910, 6);
      expect(drawn(root, 'floor', 'CUTOUT-DRIVER')).toEqual([]);
    });
  });

  it('drawn anew and derived back gives the parts of the first set, byte for byte', async () => {
    await inFolder(wren, (root) => {
      derive(root, 'patterns/wren', 'RHD', 'rhd');
      derive(root, 'patterns/wren', 'LHD', 'lhd');
      derive(root, 'lhd/set', 'RHD', 'back');
      derive(root, 'lhd/set', 'LHD', 'again');
      expect(filesOf(join(root, 'back/parts'))).toEqual(filesOf(join(root, 'rhd/parts')));
      expect(filesOf(join(root, 'again/parts'))).toEqual(filesOf(join(root, 'lhd/parts')));
      expect(filesOf(join(root, 'again/set')).get('set.yaml')).toContain('drawn: LHD');
    });
  });

  it('the same again is the same bytes', async () => {
    await inFolder(wren, (root) => {
      derive(root, 'patterns/wren', 'LHD', 'one');
      derive(root, 'patterns/wren', 'LHD', 'two');
      for (const part of ['', 'parts', 'set']) {
        const names = readdirSync(join(root, 'one', part)).filter((name) => name.includes('.'));
        expect(names.length).toBeGreaterThan(0);
        for (const name of names) {
          const [one, two] = ['one', 'two'].map((out) => readFileSync(join(root, out, part, name)));
          expect(one!.equals(two!), name).toBe(true);
        }
      }
    });
  });

  it('takes the options of an order', async () => {
    await inFolder(wren, (root) => {
      const partsWith = (out: string, more: object): string[] =>
        derive(root, 'patterns/wren', 'LHD', out, {
          options: { ...options, hand: 'LHD', ...more },
        }).parts.map(({ name }) => name);
      expect(partsWith('a', { heelPads: 'both' })).toContain('mat-pad-right');
      expect(partsWith('b', { heelPads: 'none' }).join()).not.toContain('pad');
      expect(partsWith('c', { boards: false }).join()).not.toContain('board');
    });
  });
});

const refusals: [what: string, files: Files, words: RegExp][] = [
  [
    'a fold line that is not straight',
    redrawn('FLOOR', (entities) => [
      ...entities,
      ...on('FOLD', line([-550, 300], [0, 310], [550, 300])),
    ]),
    /piece floor.*fold line.*straight/i,
  ],
  [
    'a centre piece with driver features and no AXIS',
    redrawn('FLOOR', (entities) => entities.filter(({ layer }) => layer !== 'AXIS')),
    /piece floor.*no AXIS line/,
  ],
  [
    'a suffix that can never be',
    replaced(wren, setFile, 'cover: { side: left,', 'cover: { side: passenger,'),
    /piece cover.*HOLE-DRIVER on a "passenger" piece can never be cut/,
  ],
  [
    'half a piece that does not end on its mirror line',
    replaced(wren, setFile, 'floor: { side: centre,', 'floor: { side: centre, half: true,'),
    /piece floor.*both sides of the mirror line/,
  ],
];

describe('a set that cannot be derived', () => {
  it.each(refusals)('%s is refused, and nothing is written', async (_, files, words) => {
    await inFolder(files, (root) => {
      expect(() => derive(root, 'patterns/wren', 'LHD', 'lhd')).toThrow(words);
      expect(existsSync(join(root, 'lhd'))).toBe(false);
    });
  });

  it('leaves a folder of something else alone', async () => {
    await inFolder({ ...wren, 'lhd/photo.jpg': '' }, (root) => {
      expect(() => derive(root, 'patterns/wren', 'LHD', 'lhd', { force: true })).toThrow(
        'something that is not a derived set (photo.jpg)',
      );
    });
  });
});
