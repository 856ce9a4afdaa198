import {
  copyFileSync,
  cpSync,
  readFileSync,
  readdirSync,
  renameSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Comparison } from '../../src/compare/compare.ts';
import { compareFiles } from '../../src/compare/compare.ts';
import type { Line } from '../../src/compare/lines.ts';
import { ranksOf } from '../../src/compare/lines.ts';
import { cut } from '../../src/jobs/cut.ts';
import type { RunRecord } from '../../src/program/record/run-record.ts';
import { openWorkshop, runFile, wren } from '../support/wren.ts';

/** One line for one cause: run folders that were changed by hand, and runs for other machines. */

const { root, close } = openWorkshop(wren);
const sharedFolder = join(root, 'shared');
const run = join(root, 'out/week');
let count = 0;

/** Cuts the week with its run file, and perhaps the long bay's profile, changed. */
async function made(text: string, profile?: (yaml: string) => string): Promise<string> {
  const file = join(root, `patterns/run-${count++}.yaml`);
  writeFileSync(file, text);
  const machine = join(sharedFolder, 'cutters/long-bay.yaml');
  const kept = readFileSync(machine, 'utf8');
  if (profile !== undefined) {
    const changed = profile(kept);
    if (changed === kept) throw new Error('the profile is as it was');
    writeFileSync(machine, changed);
  }
  const out = join(root, `out/run-${count++}`);
  await cut({ runFile: file, sharedFolder, out, force: false });
  writeFileSync(machine, kept);
  return out;
}

const text = String(wren[runFile]);

beforeAll(async () => {
  await cut({ runFile: join(root, runFile), sharedFolder, out: run, force: false });
});
afterAll(close);

/** A copy of a run folder in which something is done. */
function copied(change: (folder: string) => void, from = run): string {
  const folder = join(root, `copy-${count++}`);
  cpSync(from, folder, { recursive: true });
  change(folder);
  return folder;
}

/** A copy in which every program is changed, line by line. */
function reworded(change: (line: string) => string, from = run): string {
  return copied((folder) => {
    for (const name of readdirSync(folder).filter((one) => one.endsWith('.nc'))) {
      const file = join(folder, name);
      writeFileSync(file, readFileSync(file, 'utf8').split('\n').map(change).join('\n'));
    }
  }, from);
}

function compared(before: string, after: string): Comparison {
  return compareFiles(before, after, { tolerance: 0.01, map: new Map(), sharedFolder }).comparison;
}

/** The lines of each rank, by its name. */
function lines({ differences }: Comparison): Record<string, readonly Line[]> {
  return Object.fromEntries(ranksOf(differences).map((rank) => [rank.matter, rank.lines]));
}

describe('programs in which a number changes throughout', () => {
  const programs = (): string[] => readdirSync(run).filter((name) => name.endsWith('.nc'));

  it.each<[string, (line: string) => string, RegExp]>([
    [
      'the feed',
      (line) => line.replace('F18000', 'F9000'),
      /^the feed of the cut was 18000 mm\/min and is 9000 mm\/min, \d+ times\.$/,
    ],
    [
      'the depth',
      (line) => line.replace('Z-0.5', 'Z-1.5'),
      /^the height of the knife while it moves was -0\.5 mm and is -1\.5 mm, \d+ times\.$/,
    ],
    [
      'the travel height',
      (line) => line.replace('Z18', 'Z8'),
      /^the height at which the knife travels was 18 mm and is 8 mm/,
    ],
    [
      'the plunge feed',
      (line) => line.replace('F3000', 'F6000'),
      /^the feed at which the knife is lowered was 3000 mm\/min and is 6000 mm\/min, \d+ times\.$/,
    ],
    [
      'the speed of turning',
      (line) => line.replace('F21600', 'F9999'),
      /^the speed at which the knife is turned was 21600 degrees\/min and is 9999/,
    ],
  ])('are told in one line that names them: %s', (_, change, words) => {
    const found = lines(compared(run, reworded(change)));
    const told = found['machine']!.filter((line) => words.test(line.words));
    expect(told).toHaveLength(1);
    // Dry programs have no depth of the cut.
    expect(told[0]!.where).toMatch(/\.nc, .*\.nc, .*\.nc.* more$/);
    expect(new Set(told[0]!.differences.map(({ file }) => file)).size).toBeGreaterThan(2);
    expect(programs().length).toBeGreaterThan(3);
  });

  it('say how many times', () => {
    const times = programs()
      .map(
        (name) =>
          readFileSync(join(run, name), 'utf8').match(/^G[123] [XY].*F18000/gm)?.length ?? 0,
      )
      .reduce((a, b) => a + b, 0);
    expect(times).toBeGreaterThan(10);
    // A feed holds until the next one is said, so at least so many moves have it.
    const found = lines(
      compared(
        run,
        reworded((line) => line.replace('F18000', 'F9000')),
      ),
    );
    const [, said] = /, (\d+) times/.exec(found['machine']![0]!.words)!;
    expect(Number(said)).toBeGreaterThanOrEqual(times);
    expect(found['machine']).toHaveLength(1);
  });
});

describe('a run that was made from another tape or another set', () => {
  it('is not equal, whatever its cuts are: its papers may say something else', () => {
    const other = copied((folder) => {
      const file = join(folder, 'run.json');
      const record = JSON.parse(readFileSync(file, 'utf8')) as {
        inputs: { file: string; sha256: string }[];
      };
      for (const one of record.inputs) {
        if (one.file.endsWith('set.yaml')) one.sha256 = '0'.repeat(64);
      }
      writeFileSync(file, JSON.stringify(record));
    }, run);
    const found = lines(compared(run, other));
    expect(Object.keys(found)).toEqual(['words']);
    expect(found['words']!.map(({ words }) => words).join(' ')).toMatch(
      /made from files that were changed in between: .*set\.yaml\./,
    );
  });
});

describe('a machine whose profile was changed', () => {
  it('is told in a line for each fact, and no program is told besides', async () => {
    const other = await made(text, (yaml) =>
      yaml.replace('cut: 18000', 'cut: 12000').replace('travel: 18', 'travel: 25'),
    );
    const found = lines(compared(run, other));
    expect(found['machine']!.map(({ words }) => words)).toEqual([
      'the height at which the knife travels was 18 mm and is 25 mm.',
      'the feed of the cut was 18000 mm/min and is 12000 mm/min.',
    ]);
    expect(found['shapes']).toBeUndefined();
    expect(found['words']!.every(({ what }) => what === 'VALUE')).toBe(true);
  });
});

describe('runs for different machines', () => {
  it.each<[string, string]>([
    ['face down, in short lines', 'conveyor-bed'],
    ['a trailing knife', 'small-table'],
  ])('are compared by what they cut, and the machine is one line: %s', async (_, machine) => {
    const other = await made(text.replace('long-bay', machine));
    const comparison = compared(run, other);
    const found = lines(comparison);
    expect(found['machine']).toHaveLength(1);
    expect(found['machine']![0]!.words).toContain(`${machine} in place of long-bay`);
    expect(comparison.sentence).toContain(`${machine} in place of long-bay`);
    // Notches are cut as a V by the one, as a slit by the other.
    const notches = machine === 'conveyor-bed' ? 1 : 0;
    expect((found['shapes'] ?? []).filter(({ where }) => !where.includes('notch'))).toEqual([]);
    expect((found['shapes'] ?? []).length).toBeLessThanOrEqual(notches);
    expect(comparison.notes.join(' ')).toMatch(/Not compared: their drawings/);

    // One part is cut 5 mm elsewhere by the other machine, and nothing else.
    const changed = copied((folder) => {
      const file = join(folder, 'loop.nc');
      const all = readFileSync(file, 'utf8').split('\n');
      const from = all.findIndex((line) => /\(rest-left\.1\.A2 outline\)/i.test(line));
      const to = all.findIndex((line, i) => i > from && line.includes('('));
      const moved = all.map((line, i) =>
        i > from && i < to
          ? line.replace(/Y(-?[\d.]+)/, (__, y: string) => `Y${Number(y) + 5}`)
          : line,
      );
      writeFileSync(file, moved.join('\n'));
    }, other);
    const told = lines(compared(run, changed))['shapes']!.filter(({ where }) =>
      where.includes('rest-left'),
    );
    expect(told).toHaveLength(1);
    expect(told[0]!.differences[0]!.distance).toBeGreaterThan(4);
    expect(told[0]!.differences[0]!.distance).toBeLessThan(7);
  });

  it('in inches cut the same as in mm', async () => {
    const inches = await made(text, (yaml) =>
      yaml.replace('units: mm', 'units: inch').replace('decimals: 3', 'decimals: 4'),
    );
    const found = lines(compared(run, inches));
    expect(found['machine']!.map(({ words }) => words)).toEqual([
      'the unit of length in programs was "mm" and is "inch".',
      'the number of decimals in programs was 3 and is 4.',
    ]);
    expect(found['shapes']).toBeUndefined();
  });
});

describe('a whole program', () => {
  /** Two oblongs, cut with a knife that an axis turns; x, y by what `at` makes of them. */
  const program = (
    unit: string,
    at: (x: number, y: number) => [number, number],
    deg = (a: number): number => a,
  ): string => {
    const oblong = (name: string, x: number, wide: number): string[] => {
      const corner = (dx: number, dy: number): string => {
        const [a, b] = at(x + dx, dy);
        return `X${a.toFixed(3)} Y${b.toFixed(3)}`;
      };
      return [
        `(${name} outline)`,
        `G0 ${corner(0, 0)}`,
        `G1 C${deg(0)} F5000`,
        'G1 Z-0.5 F300',
        `G1 ${corner(wide, 0)} C${deg(0)} F900`,
        `G1 ${corner(wide, 80)} C${deg(90)}`,
        `G1 ${corner(0, 50)} C${deg(180)}`,
        `G1 ${corner(0, 0)} C${deg(270)}`,
        'G0 Z18',
      ];
    };
    const head = `G17 ${unit} G40 G49 G54 G61 G80 G90 G94`;
    const file = join(root, `whole-${count++}.nc`);
    writeFileSync(
      file,
      [head, 'G0 Z18', ...oblong('a', 10, 100), ...oblong('b', 200, 60), 'M2', ''].join('\n'),
    );
    return file;
  };
  const plain = (): string => program('G21', (x, y) => [x, y]);

  it('of the same numbers in inches is one line for the scale, and one for the unit', () => {
    const found = lines(
      compared(
        plain(),
        program('G20', (x, y) => [x, y]),
      ),
    );
    expect(Object.keys(found)).toEqual(['machine']);
    expect(found['machine']!.map(({ words }) => words)).toEqual([
      expect.stringMatching(/^everything is 25\.4 times as large/),
      'the unit of length in the program was "mm" and is "inch".',
    ]);
  });

  it('that is mirrored with its headings is one line', () => {
    const found = lines(
      compared(
        plain(),
        program(
          'G21',
          (x, y) => [x, 500 - y],
          (deg) => -deg,
        ),
      ),
    );
    expect(
      Object.entries(found).map(([rank, all]) => [rank, all.map(({ words }) => words)]),
    ).toEqual([['mirrored', ['everything is mirrored.']]]);
  });

  it('that is moved is one line, and a knife turned otherwise is told besides', () => {
    const moved = lines(
      compared(
        plain(),
        program('G21', (x, y) => [x + 40, y - 3]),
      ),
    );
    expect(moved['places']!.map(({ words }) => words)).toEqual([
      'everything is moved by 40 mm along the roll and 3 mm towards Y 0.',
    ]);
    const turned = lines(
      compared(
        plain(),
        program(
          'G21',
          (x, y) => [x + 40, y],
          (deg) => deg + 90,
        ),
      ),
    );
    expect(turned['machine']!.map(({ words }) => words)).toEqual([
      'the heading of the knife is 90 degrees further counter-clockwise, 8 times.',
    ]);
  });
});

describe('programs of a trailing knife', () => {
  let trailing = '';
  beforeAll(async () => {
    trailing = await made(text.replace('long-bay', 'small-table'));
  });

  /** The axis goes elsewhere, and the tip does not: the knife is led to the same cut along another start. */
  it('are compared by the way of the tip: one part moved is one move of that part', () => {
    const file = join(trailing, 'board.nc');
    const all = readFileSync(file, 'utf8').split('\n');
    const starts = all.flatMap((line, i) => (line.endsWith(' outline)') ? [i] : []));
    const from = starts[1]!;
    const to = all.findIndex((line, i) => i > from && line.startsWith('('));
    const other = join(root, 'moved.nc');
    writeFileSync(
      other,
      all
        .map((line, i) =>
          i > from && i < to
            ? line.replace(/X(-?[\d.]+)/, (_, x: string) => `X${(Number(x) + 12).toFixed(3)}`)
            : line,
        )
        .join('\n'),
    );
    const found = lines(compared(file, other));
    expect(Object.keys(found)).toEqual(['places']);
    expect(found['places']).toHaveLength(1);
    expect(found['places']![0]!.words).toMatch(/^is moved by 12 mm along the roll, now at X/);
  });

  it('begin where the tip is, the profile’s offset behind the axis', () => {
    const file = join(trailing, 'board.nc');
    const { inputs } = compareFiles(
      file,
      reworded((line) => line.replace('F9000', 'F8000'), trailing) + '/board.nc',
      {
        tolerance: 0.01,
        map: new Map(),
        sharedFolder,
      },
    );
    // Each outline of the record is cut by the tip; the axis goes round it 6 mm outside.
    const record = JSON.parse(readFileSync(join(trailing, 'run.json'), 'utf8')) as RunRecord;
    const lay = record.lays.find(({ material }) => material === 'board')!;
    const part = record.parts.find(({ label }) => label === lay.placements[0]!.label)!;
    const item = inputs![0].items.find(({ label }) => label === `${part.label} outline`)!;
    const wide = (xs: readonly number[]): number => Math.max(...xs) - Math.min(...xs);
    const sizes = [item.outline.vertices.map(({ x }) => x), item.outline.vertices.map(({ y }) => y)]
      .map(wide)
      .sort((a, b) => a - b);
    const meant = [part.cutContour.map(([x]) => x), part.cutContour.map(([, y]) => y)]
      .map(wide)
      .sort((a, b) => a - b);
    for (const [i, size] of sizes.entries()) expect(Math.abs(size - meant[i]!)).toBeLessThan(1);
  });

  it('say so where nobody knows how far the tip trails', () => {
    const bare = (name: string, change: (line: string) => string): string => {
      const file = join(root, name);
      const code = readFileSync(join(trailing, 'board.nc'), 'utf8')
        .split('\n')
        .filter((line) => !line.startsWith('('));
      writeFileSync(file, code.map(change).join('\n'));
      return file;
    };
    const { notes } = compared(
      bare('a.nc', (line) => line),
      bare('b.nc', (line) => line.replace('F9000', 'F8000')),
    );
    expect(notes).toHaveLength(2);
    for (const note of notes)
      expect(note).toContain('by the way of the knife’s axis, not of its tip');
  });
});

describe('papers and files', () => {
  it.each<[string, (folder: string) => void, RegExp[]]>([
    [
      'labels deleted',
      (folder) => rmSync(join(folder, 'labels.pdf')),
      [/^labels\.pdf: the file is gone\.$/],
    ],
    [
      'a fitting sheet exchanged',
      (folder) => copyFileSync(join(folder, 'fitting-A2.svg'), join(folder, 'fitting-A1.svg')),
      [
        /^fitting-A1\.svg: differs though the run is the same: changed by hand, or made by another version/,
      ],
    ],
    [
      'a figure edited',
      (folder) => {
        const file = join(folder, 'sheet.html');
        writeFileSync(file, readFileSync(file, 'utf8').replace('loop', 'looop'));
      },
      [/^sheet\.html: differs though .*; in line \d+ ".*loop.*" is now ".*looop.*"\.$/],
    ],
    [
      'a file more',
      (folder) => writeFileSync(join(folder, 'note.txt'), 'x'),
      [/^note\.txt: the file is new\.$/],
    ],
  ])('are named, each in a short line of the last rank: %s', (_, change, words) => {
    const { differences, sentence } = compared(run, copied(change));
    expect(ranksOf(differences).map(({ matter }) => matter)).toEqual(['words']);
    const told = lines({ differences } as Comparison)['words']!.map(
      (line) => `${line.where}: ${line.words}`,
    );
    expect(told).toHaveLength(words.length);
    for (const [i, pattern] of words.entries()) expect(told[i]).toMatch(pattern);
    expect(sentence).toContain('only papers differ');
  });

  it('that a proof withdrew are called withdrawn, and not gone', () => {
    const other = copied((folder) =>
      renameSync(join(folder, 'board.nc'), join(folder, 'board.nc.withdrawn')),
    );
    const found = lines(compared(run, other));
    expect(Object.keys(found)).toEqual(['machine']);
    expect(found['machine']!.map(({ what, where, words }) => [what, where, words])).toEqual([
      ['WITHDRAWN', 'board.nc', 'was withdrawn by prove: it must not be cut.'],
    ]);
  });

  it('that differ because the run does are told in one sentence', async () => {
    const other = await made(text.replace('Wren, three sets', 'Wren, another title'));
    const { differences, notes } = compared(run, other);
    expect(differences.filter(({ kind }) => kind === 'paper')).toEqual([]);
    expect(notes.filter((note) => /papers differ because the runs do/.test(note))).toHaveLength(1);
  });
});

describe('what a run says', () => {
  const edited = (change: (record: RunRecord) => unknown): string =>
    copied((folder) => {
      const file = join(folder, 'run.json');
      writeFileSync(
        file,
        JSON.stringify(change(JSON.parse(readFileSync(file, 'utf8')) as RunRecord)),
      );
    });

  it('goes by the names of orders and materials, never by their place in a list', () => {
    const turned = edited((one) => ({
      ...one,
      orders: one.orders.toReversed(),
      materials: one.materials.toReversed(),
    }));
    expect(compared(run, turned).differences).toEqual([]);
    const dearer = edited((one) => ({
      ...one,
      materials: one.materials
        .map((each) => (each.name === 'loop' ? { ...each, price: '9.00 EUR' } : each))
        .toReversed(),
      orders: one.orders
        .map((each) => (each.order === 'A2' ? { ...each, heelPads: 'none' } : each))
        .toReversed(),
    }));
    const told = lines(compared(run, dearer))['words']!.map(
      (line) => `${line.where}: ${line.words}`,
    );
    expect(told.toSorted()).toEqual([
      'material loop: the price of a metre is new: "9.00 EUR".',
      'order A2: which heel pads it has was "both" and is "none".',
    ]);
  });

  it('of each lay is the length, density and bites before and now', () => {
    const longer = edited((one) => ({
      ...one,
      lays: one.lays.map((lay) =>
        lay.material === 'loop' ? { ...lay, length: 5000, density: 0.5 } : lay,
      ),
    }));
    const found = lines(compared(run, longer))['places']!;
    expect(found).toHaveLength(1);
    expect(found[0]!.where).toBe('loop');
    expect(found[0]!.words).toMatch(
      /^the lay took \d\.\d\d m at \d\d\.\d % in \d bites?; it takes 5\.00 m at 50\.0 % in \d bites? now\.$/,
    );
  });

  it('a lay moved as one is one line', () => {
    const moved = edited((one) => ({
      ...one,
      lays: one.lays.map((lay) => ({
        ...lay,
        placements: lay.placements.map((p) =>
          lay.material === 'loop' ? { ...p, x: p.x + 40 } : p,
        ),
      })),
    }));
    const found = lines(compared(run, moved));
    expect(found['places']!.map(({ where, words }) => [where, words])).toEqual([
      ['loop', 'the whole lay is moved by 40 mm along the roll.'],
    ]);
  });

  it('says first that two runs have no order in common', async () => {
    const other = await made(text.replaceAll(/order: A/g, 'order: B'));
    const comparison = compared(run, other);
    expect(comparison.sentence).toMatch(
      /^The runs have no order in common \(A1 and A2 before, B1 and B2 now\)/,
    );
    expect(comparison.notes.join(' ')).toMatch(
      /Not compared: programs and drawings of .*no part has the same name/,
    );
    // What has only another name is one line.
    const renamed = lines(comparison)['words']!.filter(({ words }) => words.includes('called'));
    expect(renamed).toHaveLength(1);
  });

  it('counts the parts of runs that have nothing to do with each other, and matches none', async () => {
    const others = text.replaceAll(/order: A/g, 'order: B').replace('hand: RHD', 'hand: LHD');
    const other = await made(others.replace('quantity: 2', 'quantity: 1'));
    const found = lines(compared(run, other));
    const parts = found['parts']!.map(({ words }) => words);
    expect(parts[0]).toMatch(/^no part is of an order that both have: \d+ before, \d+ now\.$/);
    expect(found['shapes']).toBeUndefined();
    expect(found['mirrored']).toBeUndefined();
  });

  it('reads as words: no path of keys is left in any line', async () => {
    const other = await made(
      text
        .replace('long-bay', 'conveyor-bed')
        .replace('dyeLot: "7"', 'dyeLot: "8"')
        .replace('heelPads: both', 'heelPads: none'),
    );
    const all = ranksOf(compared(run, other).differences).flatMap((rank) => rank.lines);
    expect(all.length).toBeGreaterThan(3);
    for (const { words } of all) {
      expect(words.replaceAll(/"[^"]*"/g, '')).not.toMatch(
        /\b[a-z]+\.[a-z]+[A-Z.]|\b[a-z]+[A-Z][a-z]+/,
      );
    }
  });
});
