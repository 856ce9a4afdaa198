/**
 * The Wren with options: an overdrive switch, a console of three lengths, and a cover that came in a new
 * shape. What is expected is said by the drawing: which layers things are on, and where.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { box, hole, line, named as text, on } from '../../patterns/fenlark/pen.ts';
import { commandIn } from '../cli/command-in.ts';
import { cut } from '../../src/jobs/cut.ts';
import type { RunRecord } from '../../src/program/record/run-record.ts';
import type { Finding } from '../../src/base/findings.ts';
import { wordPlace } from '../../src/base/findings.ts';
import { compareFiles } from '../../src/compare/compare.ts';
import type { Entity } from '../../src/drawing/drawing.ts';
import { checkSet } from '../../src/jobs/check.ts';
import { deriveSet } from '../../src/jobs/derive.ts';
import type { OptionValue } from '../../src/pattern/conditions.ts';
import type { Hand } from '../../src/pattern/words.ts';
import { hands } from '../../src/pattern/words.ts';
import type { Files } from '../support/wren.ts';
import {
  drawingFile,
  drawingText,
  inFolder,
  replaced,
  runFile,
  setFile,
  wren,
  wrenBlocks,
} from '../support/wren.ts';

type Change = (entities: readonly Entity[]) => Entity[];

const optionLines = `options:
  od: { words: overdrive switch, default: false }
  cs: { words: centre console, values: [none, short, long], default: none }
  late: { words: late shape, default: true }
pieces:`;

function onLayer(layer: string, to: string): Change {
  return (entities) => entities.map((one) => (one.layer === layer ? { ...one, layer: to } : one));
}

function added(...more: Entity[][]): Change {
  return (entities) => [...entities, ...more.flat()];
}

/** The Wren with what is drawn on its pieces changed, and its set file. */
function changed(changes: Readonly<Record<string, Change>>, files: Files = wren): Files {
  const blocks = wrenBlocks().map(({ name, entities }) => ({
    name,
    entities: changes[name]?.(entities) ?? entities,
  }));
  return { ...files, [drawingFile]: drawingText(blocks) };
}

function said(from: string | RegExp, to: string, files: Files = wren): Files {
  return replaced(files, setFile, from, to);
}

const withOptions = said('pieces:', optionLines);

const changes: Readonly<Record<string, Change>> = {
  FLOOR: added(
    on('HOLE-WITH-OD', hole(0, 400, 20)),
    on('CUTOUT-DRIVER-WITHOUT-CS-NONE', box(20, 500, 60, 560, 10)),
    on('MARK-WITH-OD-WITH-CS-LONG', line([0, 700], [50, 700])),
  ),
  REST: onLayer('OUTLINE', 'OUTLINE-WITHOUT-CS-LONG'),
  COVER: (entities) => [
    ...onLayer('OUTLINE', 'OUTLINE-WITHOUT-LATE')(entities),
    ...on('OUTLINE-WITH-LATE', box(-700, 0, -300, 200, 25)),
  ],
};

const optional = changed(changes, withOptions);

const choices = [true, false].flatMap((od) =>
  ['none', 'short', 'long'].flatMap((cs) => [true, false].map((late) => ({ od, cs, late }))),
);

function checked(files: Files): Promise<Finding[]> {
  return inFolder(files, (root) => {
    return checkSet(join(root, 'patterns/wren'), join(root, 'shared')).findings;
  });
}

function brief({ severity, rule, where }: Finding): string {
  return [severity, rule, where.piece ?? '', where.choice ?? ''].join(' ').trim();
}

function derive(
  root: string,
  from: string,
  out: string,
  hand: Hand,
  options: Record<string, OptionValue>,
): Map<string, string> {
  const sharedFolder = join(root, 'shared');
  deriveSet({
    setFolder: join(root, from),
    sharedFolder,
    out: join(root, out),
    options: { hand, heelPads: 'driver', boards: true, underlay: true, options },
    force: true,
    as: 'parts',
  });
  const folder = join(root, out, 'parts');
  return new Map(
    readdirSync(folder)
      .sort()
      .map((name) => [name, readFileSync(join(folder, name), 'utf8')]),
  );
}

describe('check of a set with options', () => {
  it('finds nothing where nothing is wrong with any of them', async () => {
    expect((await checked(optional)).map(brief)).toEqual([]);
  });

  it.each<[what: string, files: Files, found: string[]]>([
    [
      'a hole that lies on another with one value alone',
      changed(
        {
          FLOOR: added(
            on('HOLE-WITH-OD', hole(0, 400, 20)),
            on('HOLE-WITH-CS-LONG', hole(10, 400, 20)),
            on('MARK-WITH-LATE', line([0, 700], [50, 700])),
          ),
        },
        withOptions,
      ),
      ['error cutouts-overlap floor with od and with cs long'],
    ],
    [
      'a cutout over the edge, with two of three consoles',
      changed(
        { ...changes, MAT: added(on('CUTOUT-WITHOUT-CS-NONE', box(480, 200, 520, 230))) },
        withOptions,
      ),
      ['error feature-outside mat with cs short or long'],
    ],
    [
      'the same cutout whatever is chosen',
      changed({ ...changes, MAT: added(on('CUTOUT', box(480, 200, 520, 230))) }, withOptions),
      ['error feature-outside mat'],
    ],
    [
      'one of the shapes does not hold a hole of both',
      changed(
        {
          ...changes,
          COVER: (all) => added(on('HOLE', hole(-500, 218, 6)))(changes['COVER']!(all)),
        },
        withOptions,
      ),
      ['error feature-outside cover with late'],
    ],
    [
      'both shapes at once, and none',
      changed(
        {
          ...changes,
          COVER: (all) =>
            onLayer('OUTLINE-WITH-LATE', 'OUTLINE-WITHOUT-CS-NONE')(changes['COVER']!(all)),
        },
        withOptions,
      ),
      ['error one-outline cover with cs short or long and without late'],
    ],
    [
      'a seam to a piece that is not always there',
      changed({ ...changes, DASH: onLayer('OUTLINE', 'OUTLINE-WITH-OD') }, withOptions),
      ['warning seam-alone floor without od'],
    ],
    [
      'a seam to an edge that is sewn with one option and tucked without',
      changed(
        {
          ...changes,
          DASH: (all) => [
            ...onLayer('SEAM', 'SEAM-WITH-OD')(all),
            ...onLayer('SEAM', 'TUCK-WITHOUT-OD')(all.filter(({ layer }) => layer === 'SEAM')),
          ],
        },
        withOptions,
      ),
      ['warning seam-alone floor without od'],
    ],
    [
      'such an edge on both pieces',
      changed(
        {
          ...changes,
          ...Object.fromEntries(
            ['FLOOR', 'DASH'].map((name): [string, Change] => [
              name,
              (all) => {
                const before = changes[name]?.(all) ?? [...all];
                const seam = before.filter(({ layer }) => layer === 'SEAM');
                return [
                  ...onLayer('SEAM', 'SEAM-WITH-OD')(before),
                  ...onLayer('SEAM', 'TUCK-WITHOUT-OD')(seam),
                ];
              },
            ]),
          ),
        },
        withOptions,
      ),
      [],
    ],
  ])('says with which it is wrong: %s', async (_, files, found) => {
    expect([...new Set((await checked(files)).map(brief))]).toEqual(found);
  });
});

/** The rules and words of what is found on a layer of its own, drawn on the floor and the mat. */
async function foundOn(layer: string): Promise<Finding[]> {
  const own = {
    ...changes,
    FLOOR: (all: readonly Entity[]) => added(on(layer, hole(0, 200, 9)))(changes['FLOOR']!(all)),
    MAT: added(on(layer, hole(200, 500, 9))),
  };
  return checked(changed(own, withOptions));
}

describe('a layer that names options wrongly', () => {
  it.each([
    ['HOLE-WITH-ODD', 'layer-option', 'names an option "odd"', 'Options: od, cs, late.'],
    ['HOLE-WITHOUT-CONSOLE-LONG', 'layer-option', 'names an option "console"', 'Options: od, cs'],
    ['HOLE-WITH-OD-LONG', 'layer-option-value', 'says "long" of the option "od"', 'with OD.'],
    ['HOLE-WITH-OD-TRUE', 'layer-option-value', 'says "true" of the option "od"', 'with OD.'],
    ['HOLE-WITH-CS', 'layer-option-value', '"cs" without a value', 'one of none, short, long'],
    ['HOLE-WITHOUT-CS-LNG', 'layer-option-value', 'says "lng"', 'Values: none, short, long.'],
    [
      'HOLE-WITH-CS-LONG-WITH-CS-NONE',
      'layer-never',
      'no vehicle has together',
      'Correct its name',
    ],
    ['HOLE-WITH-OD-WITHOUT-OD', 'layer-never', 'no vehicle has together', 'Correct its name'],
    ['HOLE-OD', 'unknown-layer', 'nothing says what layer "HOLE-OD" means', 'Say in set.yaml'],
    ['HOLE-WITH-OD-AND-CS', 'unknown-layer', 'nothing says what layer', 'Say in set.yaml'],
    ['HOLE-WITH', 'unknown-layer', 'nothing says what layer', 'Say in set.yaml'],
  ])('is told once with layer, pieces and what there is: %s', async (layer, rule, words, todo) => {
    const found = await foundOn(layer);
    expect(found.map((one) => one.rule)).toEqual([rule]);
    const [one] = found;
    expect(one!.severity).toBe('error');
    expect(one!.message).toContain(layer);
    expect(one!.message).toContain(words);
    expect(one!.message).toMatch(/floor.*mat/);
    expect(one!.todo).toContain(todo);
    expect(wordPlace(one!.where)).toMatch(/wren\.dxf:\d+/);
  });

  it('is told of own layers with what they stand for', async () => {
    const own = said('pieces:', 'layers: { RED: HOLE-WITH-ODD }\npieces:', withOptions);
    const files = changed({ ...changes, MAT: added(on('RED', hole(200, 500, 9))) }, own);
    const [one, ...more] = await checked(files);
    expect(more).toEqual([]);
    expect(one!.message).toContain('the layer RED (HOLE-WITH-ODD) names an option "odd"');
    expect(one!.where.piece).toBe('mat');
  });

  it('in a set without options is told too', async () => {
    const files = changed({ MAT: added(on('HOLE-WITH-OD', hole(200, 500, 9))) });
    const [one, ...more] = await checked(files);
    expect(more).toEqual([]);
    expect(one).toMatchObject({ rule: 'layer-option', where: { piece: 'mat' } });
    expect(one!.todo).toContain('The set has no options');
  });
});

describe('options in the set file', () => {
  it('that no layer names are an error each', async () => {
    const found = await checked(withOptions);
    expect(found.map(brief)).toEqual(Array.from({ length: 3 }, () => 'error option-idle'));
    expect(found[1]!.todo).toContain('HOLE-WITH-CS-NONE');
    expect(found[1]!.where).toMatchObject({ line: 8 });
  });

  it.each([
    ['od: { words: overdrive switch', 'with: { words: overdrive switch', '"with" and "without"'],
    ['od: { words: overdrive switch', 'over-drive: { words: switch', 'small letters and digits'],
    ['[none, short, long]', '[none, sh-ort, long]', 'small letters and digits'],
    ['[none, short, long]', '[none, yes]', 'leave "values" out'],
    ['[none, short, long]', '["false", none]', 'leave "values" out'],
    ['default: none', 'default: medium', 'is one of the values'],
    ['default: false', 'default: none', 'is one of the values'],
  ])('are refused: %s as %s', async (from, to, words) => {
    await expect(checked(said(from, to, optional))).rejects.toThrow(words);
  });
});

describe('a material that an order may choose', () => {
  const files: Files = {
    ...said(
      /material: loop/g,
      'material: carpet',
      said('pieces:', 'uses: { carpet: loop }\npieces:', wren),
    ),
    // Its seam allowance does not reach round the notch of the floor.
    'shared/materials/plush.yaml': String(wren['shared/materials/loop.yaml']).replace(
      'kind: carpet\n',
      'kind: carpet\nbridge: 40\n',
    ),
    'shared/materials/broken.yaml': 'title: broken',
  };

  it('is checked too, each by itself, and what it alone has says so', async () => {
    const found = await checked(files);
    expect(found.length).toBeGreaterThan(0);
    for (const { rule, where } of found) {
      expect(rule).toBe('bridge');
      expect(where.choice).toBe('with plush as carpet');
    }
  });

  it('is not checked where orders cannot choose it', async () => {
    expect(await checked({ ...files, [setFile]: wren[setFile]! })).toEqual([]);
  });
});

describe('a set with options, derived', () => {
  it('has the parts of what is chosen, and says on picture and table what that is', async () => {
    await inFolder(optional, (root) => {
      const usual = derive(root, 'patterns/wren', 'usual', 'LHD', {});
      expect([...usual.keys()]).toContain('rest-left.dxf');
      expect(usual.get('floor.dxf')).not.toContain('MARK-WITH');
      const long = derive(root, 'patterns/wren', 'long', 'LHD', { cs: 'long', late: false });
      expect([...long.keys()]).not.toContain('rest-left.dxf');
      expect(long.get('cover-left.dxf')).not.toBe(usual.get('cover-left.dxf'));
      const words = 'no overdrive switch; centre console: long; no late shape';
      expect(readFileSync(join(root, 'long/hands.svg'), 'utf8')).toContain(words);
      const rows = readFileSync(join(root, 'long/changes.csv'), 'utf8').trim().split(/\r?\n/);
      expect(rows[0]).toMatch(/,options$/);
      for (const row of rows.slice(1)) expect(row).toContain(words);
    });
  });

  it('drawn anew and derived back gives the parts of the first set in every choice, byte for byte', async () => {
    await inFolder(optional, (root) => {
      derive(root, 'patterns/wren', 'lhd', 'LHD', { od: true });
      derive(root, 'lhd/set', 'rhd', 'RHD', { cs: 'long' });
      for (const choice of choices) {
        for (const hand of hands) {
          const first = derive(root, 'patterns/wren', 'first', hand, choice);
          expect(derive(root, 'lhd/set', 'again', hand, choice)).toEqual(first);
          expect(derive(root, 'rhd/set', 'back', hand, choice)).toEqual(first);
        }
      }
    });
  });

  it('drawn half comes out whole with all its options', async () => {
    const half: Change = (all) => [
      ...all.filter(({ layer }) => layer === 'PILE'),
      ...on('AXIS', line([0, 0], [0, 900])),
      ...on('OUTLINE-WITH-LATE', line([0, 0], [550, 0], [550, 900], [0, 900])),
      ...on('OUTLINE-WITHOUT-LATE', line([0, 0], [550, 0], [530, 900], [0, 900])),
      ...on('SEAM-WITH-LATE', line([0, 900], [550, 900])),
      ...on('SEAM-WITHOUT-LATE', line([0, 900], [530, 900])),
      ...on('HOLE-WITH-OD', hole(200, 400, 20)),
      ...on('CUTOUT-DRIVER-WITHOUT-CS-NONE', box(20, 500, 60, 560, 10)),
    ];
    const files = said(
      'side: centre, material: loop, decided',
      'side: centre, half: true, edge: raw, material: loop, decided',
      changed(
        { ...changes, FLOOR: half, DASH: (all) => all.filter(({ layer }) => layer !== 'NOTCH') },
        said('seams:', 'ease: 50\nseams:', withOptions),
      ),
    );
    await inFolder(files, (root) => {
      derive(root, 'patterns/wren', 'lhd', 'LHD', {});
      for (const choice of choices) {
        const first = derive(root, 'patterns/wren', 'first', 'RHD', choice);
        expect(first.get('floor.dxf')!.split('HOLE').length > 2).toBe(choice.od);
        expect(derive(root, 'lhd/set', 'again', 'RHD', choice)).toEqual(first);
      }
    });
  });

  it.each<[options: Record<string, OptionValue>, words: RegExp]>([
    [{ odd: true }, /--option odd=true: the set has no such option. It has od, cs, late./],
    [{ cs: 'medium' }, /--option cs=medium: it cannot be so. It can be none, short, long./],
    [{ cs: true }, /It can be none, short, long./],
    [{ od: 'long' }, /It can be true, false./],
  ])('refuses what the set does not have: %j', async (options, words) => {
    await inFolder(optional, (root) => {
      expect(() => derive(root, 'patterns/wren', 'x', 'LHD', options)).toThrow(words);
      expect(readdirSync(root)).not.toContain('x');
    });
  });

  it('is refused where the other shape has an error, and says with which option', async () => {
    const crossed: Change = (all) => [
      ...changes['COVER']!(all).filter(({ layer }) => layer !== 'OUTLINE-WITH-LATE'),
      ...on('OUTLINE-WITH-LATE', box(-700, 0, -300, 200, 25), box(-690, 0, -300, 200, 25)),
    ];
    await inFolder(changed({ ...changes, COVER: crossed }, withOptions), (root) => {
      const run = () => derive(root, 'patterns/wren', 'x', 'LHD', { late: false });
      expect(run).toThrow(/piece cover, with late, .*there are 2 OUTLINE lines/);
      expect(readdirSync(root)).not.toContain('x');
    });
  });
});

describe('two sets with options, compared', () => {
  async function differences(before: Files, after: Files): Promise<string[]> {
    return inFolder(
      {
        ...before,
        'patterns/other/set.yaml': String(after[setFile]),
        'patterns/other/wren.dxf': String(after[drawingFile]),
      },
      (root) => {
        const sharedFolder = join(root, 'shared');
        const [one, other] = ['wren', 'other'].map((name) => join(root, 'patterns', name));
        const { comparison } = compareFiles(one!, other!, {
          tolerance: 0.01,
          map: new Map(),
          sharedFolder,
        });
        return comparison.differences.map(({ label, message }) => `${label ?? ''}: ${message}`);
      },
    );
  }

  it('differ in nothing where nothing differs', async () => {
    const spaced = { ...optional, [setFile]: `${String(optional[setFile])}\n` };
    expect(await differences(optional, spaced)).toEqual([]);
  });

  it.each<[what: string, change: (files: typeof changes) => Files, told: RegExp[]]>([
    [
      'a hole of an option is moved',
      (all) =>
        changed(
          {
            ...all,
            FLOOR: (one) => [
              ...all['FLOOR']!(one).filter(({ layer }) => layer !== 'HOLE-WITH-OD'),
              ...on('HOLE-WITH-OD', hole(0, 410, 20)),
            ],
          },
          withOptions,
        ),
      [/^floor: HOLE-WITH-OD at .* is moved by 10/],
    ],
    [
      'a hole goes with another option',
      (all) =>
        changed(
          {
            ...all,
            FLOOR: (one) => onLayer('HOLE-WITH-OD', 'HOLE-WITH-CS-LONG')(all['FLOOR']!(one)),
          },
          withOptions,
        ),
      [/^floor: HOLE-WITH-OD at .* is gone/, /^floor: HOLE-WITH-CS-LONG at .* is new/],
    ],
    [
      'the other shape is larger',
      (all) =>
        changed(
          {
            ...all,
            COVER: (one) => [
              ...all['COVER']!(one).filter(({ layer }) => layer !== 'OUTLINE-WITH-LATE'),
              ...on('OUTLINE-WITH-LATE', box(-700, 0, -300, 210, 25)),
            ],
          },
          withOptions,
        ),
      [/^cover: OUTLINE-WITH-LATE at .* is changed: 10/],
    ],
    [
      'a piece is there with other values',
      (all) =>
        changed({ ...all, REST: onLayer('OUTLINE', 'OUTLINE-WITHOUT-CS-NONE') }, withOptions),
      [/^rest: .*first outline.* was "WITHOUT-CS-LONG" and is "WITHOUT-CS-NONE"/],
    ],
    [
      'another value is usual',
      (all) => changed(all, said('default: none', 'default: short', withOptions)),
      [/option "cs" was "none" and is "short"/],
    ],
  ])('%s', async (_, change, told) => {
    const found = await differences(optional, change(changes));
    expect(found).toHaveLength(told.length);
    for (const words of told)
      expect(
        found.some((one) => words.test(one)),
        String(words),
      ).toBe(true);
  });
});

describe('what stands in the set file for something that is only there with an option', () => {
  it.each<[what: string, files: Files]>([
    [
      'a cover of a named raw edge',
      said(
        'covered: the wing',
        'covered: { rear: the wing }',
        changed(
          {
            ...changes,
            COVER: (all) => [
              ...changes['COVER']!(all),
              ...on('RAW-WITH-OD', line([-600, 0], [-400, 0])),
              ...text('RAW-WITH-OD', 'rear', -500, -20),
            ],
          },
          said('edge: raw', 'edge: bound', withOptions),
        ),
      ),
    ],
    [
      'the material of a heel pad',
      changed({ ...changes, MAT: onLayer('PAD-DRIVER', 'PAD-DRIVER-WITH-OD') }, withOptions),
    ],
    [
      'a circle that no vehicle has',
      said(
        'covered: the seat base',
        'covered: the rest',
        said(
          'side: driver,',
          'side: driver, tucked: the cover,',
          said(
            'side: left,',
            'side: left, tucked: the floor,',
            changed(
              {
                FLOOR: added(on('MARK-WITH-OD-WITH-LATE', line([0, 700], [50, 700]))),
                REST: (all) => [
                  ...onLayer('OUTLINE', 'OUTLINE-WITH-CS-LONG')(all),
                  ...on('TUCK', line([420, 700], [620, 700])),
                ],
                COVER: (all) => [
                  ...onLayer('OUTLINE', 'OUTLINE-WITHOUT-CS-LONG')(all),
                  ...on('TUCK', line([-600, 0], [-400, 0])),
                ],
              },
              withOptions,
            ),
          ),
        ),
      ),
    ],
  ])('is no mistake: %s', async (_, files) => {
    expect((await checked(files)).map(brief)).toEqual([]);
  });

  it('is one where no choice has it', async () => {
    const files = said('covered: the wing', 'covered: { rear: the wing }', optional);
    expect((await checked(files)).map(brief)).toContain('warning covers-nothing cover');
  });
});

describe('things beside the outline', () => {
  it('are told once, and those of an option by themselves', async () => {
    const notch = (y: number) => line([300, 100 - y], [300, 106]);
    const files = changed(
      {
        ...changes,
        MAT: added(on('NOTCH', notch(0.3)), on('NOTCH-WITH-OD', line([200, 99.5], [200, 106]))),
      },
      withOptions,
    );
    expect((await checked(files)).map(brief)).toEqual([
      'note snapped mat',
      'note snapped mat with od',
    ]);
  });
});

describe('an order with options', () => {
  it.each([
    ['', 'no overdrive switch; centre console: none; late shape', true],
    [
      ', options: { od: true, cs: long, late: false }',
      'overdrive switch; centre console: long; no late shape',
      false,
    ],
  ])('gets its parts, and papers say what they are for%s', async (chosen, words, hasRest) => {
    const order = `orders:\n  - { order: A1, set: wren, hand: RHD${chosen} }\nrolls:`;
    const files = replaced(optional, runFile, /orders:[^]*rolls:/, order);
    await inFolder(files, async (root) => {
      const out = join(root, 'out/wren-week');
      const sharedFolder = join(root, 'shared');
      await cut({ runFile: join(root, runFile), sharedFolder, out, force: false });
      const record = JSON.parse(readFileSync(join(out, 'run.json'), 'utf8')) as RunRecord;
      const pieces = record.parts.map(({ piece }) => piece);
      expect(pieces).toContain('floor');
      expect(pieces.includes('rest')).toBe(hasRest);
      const title = `Wren van, cab (${words})`;
      expect(record.orders.map((one) => one.title)).toEqual([title]);
      expect(readFileSync(join(out, 'sewing-A1.html'), 'utf8')).toContain(words);
    });
  });
});

describe('derive on the command line', () => {
  async function derived(
    ...more: string[]
  ): Promise<{ code: number; stderr: string; parts: string[] }> {
    return inFolder(optional, async (root) => {
      const args = ['derive', ...more, 'patterns/wren', '--hand', 'RHD', '--out', 'out'];
      const { code, stderr } = await commandIn(root, args);
      const parts = code === 0 ? readdirSync(join(root, 'out/parts')) : [];
      return { code, stderr, parts };
    });
  }

  it('takes options one by one', async () => {
    const { code, parts } = await derived('--option', 'cs=long', '--option', 'od=true');
    expect(code).toBe(0);
    expect(parts).not.toContain('rest-right.dxf');
    expect((await derived()).parts).toContain('rest-right.dxf');
  });

  it.each([
    [['--option', 'cs'], '--option cs is no NAME=VALUE'],
    [['--option', '=long'], 'is no NAME=VALUE'],
    [['--option', 'cs=long', '--option', 'cs=short'], 'is said otherwise'],
    [['--option', 'cs=medium'], 'It can be none, short, long.'],
    [['--option', 'console=long'], 'It has od, cs, late.'],
  ])('refuses %j', async (args, words) => {
    const { code, stderr } = await derived(...args);
    expect(code).toBe(2);
    expect(stderr).toContain(words);
  });
});
