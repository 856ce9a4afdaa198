import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Finding } from '../../src/base/findings.ts';
import type { DrawingReport } from '../../src/pattern/first-look/sight.ts';
import { dxf, inMm, line, lwpolyline, onLayer } from '../drawing/dxf.ts';
import { drawingFile, inFolder, replaced, runFile, setFile, wren } from '../support/wren.ts';
import { commandIn } from './command-in.ts';

describe('cut, then prove', () => {
  it('writes a run that is proven, over an earlier one with --force, and faults in it are found', async () => {
    await inFolder(wren, async (root) => {
      const folder = join(root, 'out/wren-week');
      for (const options of [[], ['--force']]) {
        const { code, stdout, stderr } = await commandIn(root, ['cut', runFile, ...options]);
        expect(stdout).toContain('Wren, three sets');
        expect(stdout).toContain('2 orders, 3 sets (2 RHD + 1 LHD), 25 parts');
        expect(stdout).toContain(folder);
        expect(stderr).not.toMatch(/ERROR|warning/);
        expect(code).toBe(0);
        expect(readdirSync(join(root, 'out'))).toEqual(['wren-week']);
      }

      const proven = await commandIn(root, ['prove', 'out/wren-week']);
      expect(proven.stdout).toContain('out/wren-week: proven.');
      // It reads no paper back, and so does not say that it has.
      expect(proven.stdout).toContain('papers are held by the list alone, and not read back.');
      expect(proven).toMatchObject({ code: 0, stderr: '' });

      // Who has changed the run since is warned, and the files are what they were.
      const text = readFileSync(join(root, runFile), 'utf8');
      writeFileSync(join(root, runFile), text.replace('quantity: 2', 'quantity: 3'));
      const older = await commandIn(root, ['prove', 'out/wren-week']);
      expect(older.stderr).toMatch(/^warning .*before order A1 was changed\./s);
      expect(older.stdout).toContain('out/wren-week: proven.');
      expect(older.code).toBe(0);
      writeFileSync(join(root, runFile), text);

      const program = join(folder, 'loop.nc');
      writeFileSync(program, readFileSync(program, 'utf8').replace(/^G1 X(\d)/m, 'G1 X1$1'));
      const found = await commandIn(root, ['prove', 'out/wren-week']);
      expect(found.stderr).toMatch(/^ERROR {2}out\/wren-week\/loop\.nc[:,]/);
      expect(found.stderr).toContain('Programs withdrawn: ');
      expect(found).toMatchObject({ code: 1, stdout: '' });
      expect(readdirSync(folder).filter((name) => name.endsWith('.nc'))).toEqual([]);
      expect(readdirSync(folder)).toContain('loop.nc.withdrawn');
    });
  });
});

describe('recut, then compare', () => {
  it('cuts a part again, proven, and tells runs apart by exit code, table, JSON and picture', async () => {
    await inFolder(wren, async (root) => {
      const run = (...args: string[]) => commandIn(root, args);
      await run('cut', runFile, '--effort', '2');
      const again = await run('recut', 'out/wren-week', '--part', 'rest-left.1.A2', 'floor.1.A1');
      expect(again.stdout).toContain('loop: 2 parts');
      expect(again).toMatchObject({ code: 0, stderr: '' });
      expect((await run('prove', 'out/wren-week-recut')).code).toBe(0);

      const equal = await run('compare', 'out/wren-week', 'out/wren-week');
      expect(equal).toMatchObject({ code: 0, stderr: '' });
      expect(equal.stdout).toContain('equal, byte for byte');

      const picture = 'out/change.svg';
      const other = await run('compare', 'out/wren-week', 'out/wren-week-recut', '--svg', picture);
      expect(other.code).toBe(1);
      expect(other.stdout).toMatch(/^GONE +mat-left\.1\.A1 /m);
      expect(readFileSync(join(root, picture), 'utf8')).toContain('<svg');
      expect(
        (await run('compare', 'out/wren-week', 'out/wren-week-recut', '--svg', picture)).code,
      ).toBe(2);

      const json = await run('compare', 'out/wren-week', 'out/wren-week-recut', '--json');
      const { kind, sentence, ranks } = JSON.parse(json.stdout) as {
        kind: string;
        sentence: string;
        ranks: { rank: string; heading: string; lines: { differences: { kind: string }[] }[] }[];
      };
      expect(kind).toBe('run');
      // What matters most comes first, as text and as data.
      expect(other.stdout.startsWith(`${sentence}\n`)).toBe(true);
      expect(other.stdout).toContain(`\n${ranks[0]!.heading}\n`);
      const gone = ranks
        .flatMap(({ lines }) => lines)
        .flatMap(({ differences }) => differences)
        .filter((one) => one.kind === 'removed');
      expect(gone).toHaveLength(23);
    });
  });
});

describe('cut --from', () => {
  const cut = (root: string, ...args: string[]) => commandIn(root, ['cut', runFile, ...args]);
  const lengths = (root: string, name: string): number[] => {
    const run = JSON.parse(readFileSync(join(root, name, 'run.json'), 'utf8'));
    return run.lays.map(({ length }: { length: number }) => length);
  };

  it('goes on from an earlier run: no lay gets longer, in rounds and in seconds', async () => {
    await inFolder(wren, async (root) => {
      await cut(root, '--effort', '40', '--out', 'out/first');
      const more: string[][] = [
        ['--effort', '1'],
        ['--effort', '60', '--threads', '1'],
        ['--seconds', '0.5'],
      ];
      for (const [i, options] of more.entries()) {
        const out = `out/more-${i}`;
        const { code } = await cut(root, '--from', 'out/first', '--out', out, ...options);
        expect(code).toBe(0);
        const [first, second] = [lengths(root, 'out/first'), lengths(root, out)];
        // Carpet, board and rubber.
        expect(first).toHaveLength(3);
        expect(second).toHaveLength(first.length);
        for (const [k, length] of second.entries()) {
          expect(length).toBeLessThanOrEqual(first[k]!);
        }
      }
    });
  });

  it('refuses an earlier run whose parts no longer lie well', async () => {
    await inFolder(wren, async (root) => {
      await cut(root, '--effort', '2', '--out', 'out/first');
      const file = join(root, 'out/first/run.json');
      const run = JSON.parse(readFileSync(file, 'utf8'));
      const [one, other] = run.lays[0].placements;
      Object.assign(one, { x: other.x, y: other.y });
      writeFileSync(file, JSON.stringify(run));
      const { code, stderr } = await cut(root, '--from', 'out/first', '--out', 'out/second');
      expect(code).not.toBe(0);
      expect(stderr).toContain('without the earlier run');
      expect(existsSync(join(root, 'out/second'))).toBe(false);
    });
  });
});

describe('Ctrl-C while the parts are being laid', () => {
  const endless = ['cut', runFile, '--effort', '1000000000'];

  it('with --keep-best goes on with the lay it has, and the folder is whole and proven', async () => {
    await inFolder(wren, async (root) => {
      const { code } = await commandIn(root, [...endless, '--keep-best'], { interrupt: true });
      expect(code).toBe(0);
      const proven = await commandIn(root, ['prove', 'out/wren-week']);
      expect(proven).toMatchObject({ code: 0, stderr: '' });
    });
  });
});

describe('check', () => {
  it('finds nothing on a sound set', async () => {
    await inFolder(wren, async (root) => {
      const outcome = await commandIn(root, ['check', 'patterns/wren']);
      expect(outcome).toEqual({ code: 0, stdout: 'patterns/wren: nothing found.\n', stderr: '' });
    });
  });

  it('gives its findings as JSON', async () => {
    await inFolder(replaced(wren, setFile, ', covered: the wing', ''), async (root) => {
      const outcome = await commandIn(root, ['check', 'patterns/wren', '--json']);
      expect(JSON.parse(outcome.stdout)).toMatchObject([
        { severity: 'error', rule: 'raw-on-show', where: { piece: 'cover', part: 'cover-left' } },
      ]);
      expect(outcome).toMatchObject({ code: 1, stderr: '' });
    });
  });

  it('draws what it found, over an earlier picture with --force', async () => {
    await inFolder(replaced(wren, setFile, ', covered: the wing', ''), async (root) => {
      const draw = ['check', 'patterns/wren', '--svg', 'out/found.svg'];
      const { code, stdout, stderr } = await commandIn(root, draw);
      expect({ code, stdout }).toEqual({ code: 1, stdout: '' });
      expect(stderr).toMatch(/^piece cover$/m);
      expect(stderr).toMatch(/^ {2}\d+\. ERROR {2}.*part cover-left, at .* {2}\[raw-on-show\]$/m);
      expect(readdirSync(join(root, 'out'))).toEqual(['found.svg']);
      const picture = readFileSync(join(root, 'out/found.svg'), 'utf8');
      expect(picture).toMatch(/^<svg .*<\/svg>\n$/s);

      writeFileSync(join(root, 'out/found.svg'), 'older');
      expect(await commandIn(root, draw)).toMatchObject({ code: 2 });
      expect(readFileSync(join(root, 'out/found.svg'), 'utf8')).toBe('older');
      expect(await commandIn(root, [...draw, '--force'])).toMatchObject({ code: 1 });
      expect(readFileSync(join(root, 'out/found.svg'), 'utf8')).toBe(picture);
    });
  });
});

describe('read', () => {
  it('lists the pieces of a drawing with their sizes', async () => {
    await inFolder(wren, async (root) => {
      const { code, stdout } = await commandIn(root, ['read', drawingFile]);
      expect(stdout).toMatch(/5 pieces\n/);
      expect(stdout).toMatch(/^FLOOR +1100 x 900 +0\.9900 +4 +0 +4 +/m);
      expect(code).toBe(0);
    });
  });

  it('gives the same as JSON, in mm whatever the units', async () => {
    await inFolder(wren, async (root) => {
      const args = ['read', drawingFile, '--json', '--units', 'in'];
      const { stdout, stderr } = await commandIn(root, args);
      const report = JSON.parse(stdout) as DrawingReport;
      const floor = report.pieces.find(({ name }) => name === 'FLOOR')!;
      expect(floor.outline.area).toBeCloseTo(1100 * 900 * 25.4 ** 2, 3);
      expect(floor.outline.perimeter).toBeCloseTo(4000 * 25.4, 6);
      expect(floor.inner.map(({ role }) => role).sort()).toEqual([
        'CUTOUT',
        'CUTOUT',
        'HOLE',
        'HOLE',
      ]);
      expect(floor.features.MARK).toBe(1);
      expect(report).toMatchObject({ units: 'in', unitsFrom: 'option' });
      expect(stderr).toBe('');
    });
  });
});

describe('import', () => {
  it('makes a set that check reads, and says what it guessed', async () => {
    await inFolder(wren, async (root) => {
      const args = ['import', drawingFile, '--set', 'robin', '--units', 'mm', '--drawn', 'RHD'];
      const { code, stdout } = await commandIn(root, args);
      expect(code).toBe(0);
      expect(stdout).toMatch(
        /^floor +centre +1 +board +side\? it lies across the line on layer AXIS/m,
      );
      expect(stdout).toMatch(/^the set: pile: rearward\? no drawing says/m);
      const check = await commandIn(root, ['check', 'patterns/robin', '--json']);
      const rules = (JSON.parse(check.stdout) as Finding[]).map(({ rule }) => rule);
      expect(rules).not.toContain('units-assumed');
      expect(check.code).toBe(1);
    });
  });
});

describe('read --svg', () => {
  it('draws every piece with its name', async () => {
    await inFolder(wren, async (root) => {
      const args = ['read', drawingFile, '--units', 'mm', '--svg', 'out/seen.svg'];
      expect((await commandIn(root, args)).code).toBe(0);
      const svg = readFileSync(join(root, 'out/seen.svg'), 'utf8');
      for (const name of ['FLOOR', 'DASH', 'MAT', 'REST', 'COVER'])
        expect(svg).toContain(`>${name}<`);
    });
  });
});

describe('read', () => {
  it('shows layers that say nothing and what lies in no outline, in words and in its picture', async () => {
    const corners: [number, number, number][] = [
      [0, 0, 0],
      [400, 0, 0],
      [400, 300, 0],
      [0, 300, 0],
    ];
    const words = dxf({
      header: inMm,
      entities: [
        onLayer(lwpolyline(corners, true), 'OUTLINE'),
        line(10, 10, 90, 10, 'Rot'),
        line(900, 900, 950, 900, 'DIMS'),
      ],
    });
    await inFolder({ ...wren, 'customer.dxf': words }, async (root) => {
      const args = ['read', 'customer.dxf', '--svg', 'out/seen.svg'];
      const { code, stdout, stderr } = await commandIn(root, args);
      expect(code).toBe(0);
      expect(stdout).toContain('Rot (unknown)');
      expect(stderr).toContain('an open line 80 mm long');
      expect(stderr).toContain('1 on layer DIMS lies in no outline');
      const svg = readFileSync(join(root, 'out/seen.svg'), 'utf8');
      for (const shown of ['>Rot<', '>DIMS<', '>In no outline: 1<']) expect(svg).toContain(shown);
    });
  });

  it('ends with 1 where there is no piece', async () => {
    await inFolder({ ...wren, 'empty.dxf': dxf({ header: inMm, entities: [] }) }, async (root) => {
      const { code, stderr } = await commandIn(root, ['read', 'empty.dxf']);
      expect(code).toBe(1);
      expect(stderr).toContain('nothing is drawn in it at all');
    });
  });
});

describe('help', () => {
  it.each([[[]], [['cut']], [['check']], [['read']], [['import']], [['prove']], [['serve']]])(
    'of %s shows how it is used',
    async (command) => {
      const { code, stdout, stderr } = await commandIn('.', [...command, '--help']);
      expect(stdout).toContain(`pileway ${command[0] ?? '<command>'}`);
      if (command.length > 0) expect(stdout).toContain('Examples:');
      expect({ code, stderr }).toEqual({ code: 0, stderr: '' });
    },
  );
});

describe('nest', () => {
  const outline = [
    [0, 0],
    [300, 0],
    [300, 200],
  ];
  const piece = { id: 'gusset', demand: 9, rotations: [0, 180], outline };
  const files = {
    'gussets.json': JSON.stringify({ name: 'gussets', stripWidth: 700, pieces: [piece] }),
  };
  const nest = (root: string, ...args: string[]) =>
    commandIn(root, ['nest', 'gussets.json', '--force', ...args]);

  it('with no time at all gives the first layout, and after Ctrl-C the best so far', async () => {
    await inFolder(files, async (root) => {
      const first = await nest(root, '--seconds', '0', '--out', 'first.json');
      expect(first).toMatchObject({ code: 0, stderr: '' });
      expect(first.stdout).toMatch(/first\.json: length [\d.]+, density [\d.]+ %/);
      const endless = ['nest', 'gussets.json', '--seconds', '600', '--out', 'best.json'];
      const stopped = await commandIn(root, endless, { interrupt: true });
      expect(stopped.code).toBe(0);
      const best = JSON.parse(readFileSync(join(root, 'best.json'), 'utf8'));
      expect(best.placements).toHaveLength(9);
    });
  });

  it('lays the instance that its help shows', async () => {
    const { stdout } = await commandIn('.', ['nest', '--help']);
    const shown = stdout.slice(stdout.indexOf('{ "stripWidth"'));
    await inFolder({ 'gussets.json': shown }, async (root) => {
      // Twelve gussets are six oblongs of 300 x 200; three of them stand across 700.
      const said = await nest(root, '--seconds', '0', '--out', 'shown.json');
      expect(said).toMatchObject({ code: 0, stderr: '' });
      expect(said.stdout).toMatch(/shown\.json: length 600, density 85\.71 %/);
    });
  });

  it('asked for both seconds and effort says that one is enough', async () => {
    await inFolder(files, async (root) => {
      const args = ['--seconds', '1', '--effort', '5', '--out', 'x.json'];
      const { code, stderr } = await nest(root, ...args);
      expect(code).toBe(2);
      expect(stderr).toContain('mutually exclusive');
    });
  });
});

describe('serve', () => {
  it.each<[string, string[], number, RegExp]>([
    ['a port that is a word', ['--port', 'http'], 2, /port/],
    ['a port that there is not', ['--port', '65536'], 2, /port/],
    ['half a port', ['--port', '80.5'], 2, /port/],
    ['a port below none', ['--port', '-1'], 2, /port/],
    ['no port', ['--port'], 2, /port/],
    ['an option that it has not', ['--host', '0.0.0.0'], 2, /host/],
    ['a folder that is not there', ['--folder', 'nowhere'], 2, /holds no patterns/],
    ['a folder without patterns', ['--folder', 'shared'], 2, /holds no patterns/],
  ])('refuses %s in words, and ends', async (_, options, expected, words) => {
    await inFolder(wren, async (root) => {
      const { code, stdout, stderr } = await commandIn(root, ['serve', ...options]);
      expect(stderr).toMatch(words);
      expect(stderr).not.toMatch(/^ {4}at /m);
      expect({ code, stdout }).toEqual({ code: expected, stdout: '' });
    });
  });
});
