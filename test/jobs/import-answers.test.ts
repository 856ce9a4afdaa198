import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { Refusal } from '../../src/base/findings.ts';
import { readDrawing } from '../../src/drawing/read.ts';
import { areaOf } from '../../src/geometry/paths/area.ts';
import { checkSet } from '../../src/jobs/check.ts';
import type { ImportRequest } from '../../src/jobs/import.ts';
import { importSet } from '../../src/jobs/import.ts';
import type { PatternSet } from '../../src/pattern/set.ts';
import { readSet } from '../../src/pattern/set.ts';
import { commandIn } from '../cli/command-in.ts';
import { dxf, inMm, line } from '../drawing/dxf.ts';
import { customerDrawing } from '../support/customer-drawing.ts';
import { imported, rectangle } from '../support/imported.ts';
import { inFolder, wren } from '../support/wren.ts';

const folderOf = (root: string): string => join(root, 'patterns/customer');
const setOf = (root: string): PatternSet => readSet(folderOf(root), join(root, 'shared'));

/** What the set file of the set that was made says. */
function content(root: string): { layers?: Record<string, string>; drawnBy?: string } {
  return parse(readFileSync(join(folderOf(root), 'set.yaml'), 'utf8'));
}

/** What is drawn on each piece, with its role. */
function drawn({ pieces }: PatternSet): unknown[] {
  return pieces.map(({ name, outline, features }) => [
    name,
    Math.round(areaOf(outline)),
    features.map(({ role, follows }) => (follows === null ? role : `${role}-${follows}`)).sort(),
  ]);
}

const answers: [string, string][] = [
  ['Schnittkante', 'OUTLINE'],
  ['Größe "B"', 'CUTOUT'],
  ['knips', 'notch'],
  ['Band', 'BOUND'],
  ['Absatz', 'PAD-DRIVER'],
];

const inInches: Partial<ImportRequest> = { units: 'in', layers: answers };

describe('answers about layers', () => {
  it('stand in the set file, and the layers stay under their own names in its drawing', async () => {
    await imported(
      customerDrawing(),
      (_, root) => {
        expect(content(root).layers).toEqual({
          SCHNITTKANTE: 'OUTLINE',
          'GROSSE-B': 'CUTOUT',
          KNIPS: 'NOTCH',
          BAND: 'BOUND',
          ABSATZ: 'PAD-DRIVER',
        });
        const { entities } = readDrawing(join(folderOf(root), 'customer.dxf'), { setUnits: 'mm' });
        expect([...new Set(entities.map(({ layer }) => layer))].sort()).toEqual(
          ['ABSATZ', 'BAND', 'GROSSE-B', 'HILFSLINIE', 'KNIPS', 'NOTE', 'SCHNITTKANTE'].sort(),
        );
        // The corners of the mats are quarter circles of 120 and 90 mm.
        const cut = (1 - Math.PI / 4) * (120 ** 2 + 90 ** 2);
        const onEach = ['BOUND', 'CUTOUT', 'NOTCH', 'NOTCH', 'NOTCH'];
        expect(drawn(setOf(root))).toEqual([
          ['front-mat', Math.round(1780 * 640 - cut), [...onEach, 'PAD-DRIVER']],
          ['step', Math.round(900 * 520 - cut), onEach],
          ['step-2', Math.round(900 * 520 - cut), onEach],
        ]);
        expect(readdirSync(join(root, 'shared'))).not.toContain('customers');
      },
      inInches,
    );
  });

  it('can be changed there, with no change to the drawing', async () => {
    await imported(
      customerDrawing(),
      (_, root) => {
        const file = join(folderOf(root), 'set.yaml');
        const text = readFileSync(file, 'utf8');
        writeFileSync(file, text.replace('BAND: BOUND', 'BAND: SEAM'));
        const roles = setOf(root).pieces[0]!.features.map(({ role }) => role);
        expect(roles).toContain('SEAM');
        expect(roles).not.toContain('BOUND');
      },
      inInches,
    );
  });

  it('are questions no more, and what is not answered still is', async () => {
    await imported(
      customerDrawing(),
      (_, root) => {
        const { findings } = checkSet(folderOf(root), join(root, 'shared'));
        expect(findings.filter(({ rule }) => rule === 'unknown-layer')).toEqual([]);
        const open = parse(readFileSync(join(folderOf(root), 'set.yaml'), 'utf8')).open;
        expect(Object.keys(open)).toEqual(
          expect.arrayContaining(['title', 'drawn', 'pile', 'left-out']),
        );
      },
      inInches,
    );
    await imported(
      customerDrawing(),
      (_, root) => {
        const { findings } = checkSet(folderOf(root), join(root, 'shared'));
        const unknown = findings.filter(({ rule }) => rule === 'unknown-layer');
        expect(unknown.map(({ message }) => /"(.+)"/.exec(message)![1])).toEqual(['KNIPS']);
      },
      { ...inInches, layers: answers.filter(([layer]) => layer !== 'knips') },
    );
  });

  it.each<[string, Partial<ImportRequest>, RegExp]>([
    ['of a layer that is not there', { layers: [['Knipz', 'NOTCH']] }, /There are: Schnittkante/],
    ['that means nothing', { layers: [['Knips', 'SNIP']] }, /write one of OUTLINE/],
    ['for a customer that nobody names', { forCustomer: 'all' }, /--customer/],
    ['by a customer with a slash', { drawnBy: 'a/b' }, /no name for a customer/],
    ['of everything as a note', { layers: answers.map(([l]) => [l, 'NOTE']) }, /none of them is/],
    ['with an endless title', { title: 'x'.repeat(101) }, /at most 100/],
  ])('%s are refused, with nothing made', async (_, more, words) => {
    await inFolder(wren, (root) => {
      const before = readdirSync(join(root, 'patterns'));
      const request = {
        file: 'tourer.dxf',
        bytes: new TextEncoder().encode(customerDrawing()),
        folder: folderOf(root),
        sharedFolder: join(root, 'shared'),
        units: 'in',
        drawn: undefined,
        gap: 0.05,
        ...more,
      } as const;
      expect(() => importSet(request)).toThrow(words);
      expect(readdirSync(join(root, 'patterns'))).toEqual(before);
      expect(existsSync(join(root, 'shared/customers'))).toBe(false);
    });
  });
});

describe('the drawing as it came', () => {
  it('is kept beside the set, byte for byte', async () => {
    await imported(
      customerDrawing(),
      (_, root) => {
        const kept = readFileSync(join(folderOf(root), 'received/customer.dxf'));
        expect(kept.equals(readFileSync(join(root, 'customer.dxf')))).toBe(true);
      },
      inInches,
    );
  });

  it.each([
    ['Große Matte (2).DXF', 'Große Matte (2).DXF'],
    ['no ending', 'no ending.dxf'],
    ['a:b?.dxf', 'drawing.dxf'],
    ['C:\\orders\\mat.dxf', 'mat.dxf'],
  ])('called %s is kept as %s', async (name, kept) => {
    await inFolder(wren, (root) => {
      importSet({
        file: name,
        bytes: new TextEncoder().encode(customerDrawing()),
        folder: folderOf(root),
        sharedFolder: join(root, 'shared'),
        units: 'in',
        drawn: 'LHD',
        gap: 0.05,
      });
      expect(readdirSync(join(folderOf(root), 'received'))).toEqual([kept]);
    });
  });
});

describe('what is so in all drawings of a customer', () => {
  const first: Partial<ImportRequest> = { ...inInches, drawnBy: 'hollin', forCustomer: 'all' };
  const again = (root: string, folder: string, more: Partial<ImportRequest> = {}): void => {
    importSet({
      file: join(root, 'customer.dxf'),
      folder: join(root, 'patterns', folder),
      sharedFolder: join(root, 'shared'),
      units: 'in',
      drawn: 'LHD',
      drawnBy: 'hollin',
      gap: 0.05,
      ...more,
    });
  };

  it('is kept in a file of theirs, and the next drawing needs no answer', async () => {
    await imported(
      customerDrawing(),
      (_, root) => {
        const file = join(root, 'shared/customers/hollin.yaml');
        const own = Object.fromEntries(answers.map(([l, m]) => [l.toUpperCase(), m.toUpperCase()]));
        expect(parse(readFileSync(file, 'utf8'))).toEqual({ layers: own });
        again(root, 'second');
        const second = parse(readFileSync(join(root, 'patterns/second/set.yaml'), 'utf8'));
        expect(second.drawnBy).toBe('hollin');
        // The one name that R12 does not take has another in the set's drawing.
        expect(second.layers).toEqual({ 'GROSSE-B': 'CUTOUT' });
        const set = readSet(join(root, 'patterns/second'), join(root, 'shared'));
        expect(drawn(set)).toEqual(drawn(setOf(root)));
        expect(set.files).toContain(file);
        const { findings } = checkSet(join(root, 'patterns/second'), join(root, 'shared'));
        expect(findings.filter(({ rule }) => rule === 'unknown-layer')).toEqual([]);
      },
      first,
    );
  });

  it('is added to, with comments left alone, and never changed', async () => {
    const file = 'shared/customers/hollin.yaml';
    const text = '# by telephone\nlayers:\n  Band: SEAM # on the 3rd\n';
    await inFolder({ ...wren, [file]: text }, (root) => {
      writeFileSync(join(root, 'customer.dxf'), customerDrawing());
      const says = (): string => readFileSync(join(root, file), 'utf8');
      expect(() => again(root, 'one', { layers: answers, forCustomer: 'all' })).toThrow(
        /layer BAND is SEAM in all drawings/,
      );
      expect(existsSync(join(root, 'patterns/one'))).toBe(false);
      expect(says()).toBe(text);
      // For this drawing alone it may be said otherwise.
      again(root, 'two', { layers: answers, forCustomer: ['Knips'] });
      expect(says()).toBe(`${text}  KNIPS: NOTCH\n`);
      const two = readSet(join(root, 'patterns/two'), join(root, 'shared'));
      expect(two.pieces[0]!.features.map(({ role }) => role)).toContain('BOUND');
    });
  });

  it('is not read for a customer without a file', async () => {
    await imported(
      customerDrawing(),
      (_, root) => {
        expect(content(root).drawnBy).toBe('new-one');
        expect(setOf(root).pieces).toHaveLength(3);
      },
      { ...inInches, drawnBy: 'new-one' },
    );
  });

  it('stands before what the shop says, and after what the set says', async () => {
    const entities = [
      rectangle(0, 0, 600, 400, 'OUTLINE'),
      ...['A', 'B', 'C'].map((layer, i) => line(50, 50 + 40 * i, 300, 90 + 40 * i, layer)),
    ];
    await imported(
      dxf({ header: inMm, entities }),
      (_, root) => {
        expect(content(root).layers).toEqual({ C: 'STITCH' });
        // What the shop says is written as its role; what the customer means stays under their names.
        const { entities: out } = readDrawing(join(folderOf(root), 'customer.dxf'), {});
        expect([...new Set(out.map(({ layer }) => layer))].sort()).toEqual(
          ['B', 'C', 'MARK', 'OUTLINE'].sort(),
        );
        expect(
          setOf(root)
            .pieces[0]!.features.map(({ role }) => role)
            .sort(),
        ).toEqual(['FOLD', 'MARK', 'STITCH'].sort());
      },
      { drawnBy: 'hollin', layers: [['C', 'STITCH']] },
      {
        'shared/layers.yaml': 'A: MARK\nB: MARK\nC: MARK\n',
        'shared/customers/hollin.yaml': 'layers: { B: FOLD, C: FOLD }\n',
      },
    );
  });
});

describe('pileway import', () => {
  it('takes answers, a customer, and what holds for all their drawings', async () => {
    await inFolder(wren, async (root) => {
      writeFileSync(join(root, 'tourer.dxf'), customerDrawing());
      const say = answers.flatMap(([layer, means]) => ['--layer', `${layer}=${means}`]);
      const common = ['import', 'tourer.dxf', '--units', 'in', '--customer', 'hollin'];
      const first = await commandIn(root, [...common, '--set', 'one', ...say, '--for-customer']);
      expect(first).toMatchObject({ code: 0 });
      const second = await commandIn(root, [...common, '--set', 'two']);
      expect(second).toMatchObject({ code: 0 });
      expect(existsSync(join(root, 'patterns/two/received/tourer.dxf'))).toBe(true);
      const [one, two] = ['one', 'two'].map((name) =>
        readSet(join(root, 'patterns', name), join(root, 'shared')),
      );
      expect(drawn(two!)).toEqual(drawn(one!));
    });
  });

  it.each([
    [['--layer', 'RED'], /--layer RED says nothing/],
    [['--layer', '=PAD'], /says nothing/],
    [['--layer', 'RED=PAD'], /nothing is drawn on a layer "RED"/],
    [['--for-customer'], /no customer is named|layer/],
    [['--customer', 'A B'], /no name for a customer/],
    [['--set', 'two/three'], /is no name for a set|once/],
  ])('refuses %j in words', async (more, words) => {
    await inFolder(wren, async (root) => {
      writeFileSync(join(root, 'tourer.dxf'), customerDrawing());
      const args = ['import', 'tourer.dxf', '--set', 'one', '--units', 'in', ...more];
      const { code, stderr } = await commandIn(root, args);
      expect([code, existsSync(join(root, 'patterns/one'))]).toEqual([2, false]);
      expect(stderr).toMatch(words);
    });
  });
});

describe('a refusal', () => {
  it('names every answer that is wrong, at once', async () => {
    const layers: [string, string][] = [
      ['Nichts', 'PAD'],
      ['Knips', 'SNIP'],
    ];
    const made = imported(customerDrawing(), () => null, { ...inInches, layers });
    await expect(made).rejects.toThrow(Refusal);
    await expect(made).rejects.toMatchObject({ findings: { length: 2 } });
  });
});
