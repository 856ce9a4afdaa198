import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Finding } from '../../src/base/findings.ts';
import { Refusal } from '../../src/base/findings.ts';
import { checkTarget, derivedFolder, publish, runFolder } from '../../src/publishing/publish.ts';

let root = '';

beforeEach(() => {
  root = mkdtempSync(join(tmpdir(), 'publish-'));
});

afterEach(() => {
  rmSync(root, { recursive: true });
});

/** A folder below the root with files in it, each holding its own name. */
function folderWith(name: string, ...files: string[]): string {
  const folder = join(root, name);
  mkdirSync(folder, { recursive: true });
  for (const file of files) writeFileSync(join(folder, file), file);
  return folder;
}

const newRun = new Map([
  ['run.json', 'new'],
  ['loop.nc', 'M2'],
]);
const fine = (): Finding[] => [];

describe('checkTarget', () => {
  it('takes a folder that is not there yet, an empty one, and with force an earlier run', () => {
    checkTarget(join(root, 'a/b/c'), runFolder, false);
    checkTarget(folderWith('empty'), runFolder, false);
    checkTarget(
      folderWith('run', 'run.json', 'sheet.html', 'loop.dry.nc', 'parts.csv'),
      runFolder,
      true,
    );
    checkTarget(folderWith('failed', 'run.json', 'loop.nc.withdrawn'), runFolder, true);
    expect(readdirSync(root).sort()).toEqual(['empty', 'failed', 'run']);
  });

  it.each([
    ['an earlier run without force', ['run.json', 'loop.nc'], false, 'exists already'],
    ['a folder of something else', ['letter.pdf'], true, 'something that is not a run'],
    ['a run with something else in it', ['run.json', 'notes.txt'], true, 'not a run (notes.txt)'],
  ])('refuses %s', (_, files, force, words) => {
    const folder = folderWith('target', ...files);
    expect(() => checkTarget(folder, runFolder, force)).toThrow(words);
    expect(readdirSync(folder).sort()).toEqual([...files].sort());
  });

  it('takes the folders of a derived set, and no other', () => {
    const folder = folderWith('derived', 'changes.csv');
    mkdirSync(join(folder, 'parts'));
    writeFileSync(join(folder, 'parts', 'mat-left.dxf'), '');
    checkTarget(folder, derivedFolder, true);
    writeFileSync(join(folder, 'parts', 'letter.txt'), '');
    expect(() => checkTarget(folder, derivedFolder, true)).toThrow('not a derived set (parts');
  });

  it('refuses a folder with a folder in it', () => {
    const folder = folderWith('target', 'run.json');
    mkdirSync(join(folder, 'photos'));
    expect(() => checkTarget(folder, runFolder, true)).toThrow('not a run (photos)');
  });

  it('refuses a file, and a folder under a file', () => {
    const file = join(folderWith('target', 'run.json'), 'run.json');
    expect(() => checkTarget(file, runFolder, true)).toThrow(
      `${file}: this or what it lies in is a file`,
    );
    expect(() => checkTarget(join(file, 'a/b'), runFolder, true)).toThrow(
      `${file} is a file, not a folder.`,
    );
  });
});

describe('publish', () => {
  it('puts exactly the new files under the name, and nothing beside it', () => {
    const folder = folderWith('run', 'run.json', 'old.nc');
    publish(folder, newRun, fine);
    expect(readdirSync(root)).toEqual(['run']);
    expect(readdirSync(folder).sort()).toEqual([...newRun.keys()].sort());
    expect(readFileSync(join(folder, 'run.json'), 'utf8')).toBe('new');
  });

  it.skipIf(!existsSync('/proc/self'))('says so where no folder can be made at all', () => {
    expect(() => publish('/proc/run', newRun, fine)).toThrow('/proc/run: writing failed');
  });

  it('has the files checked before they bear the name', () => {
    const folder = join(root, 'deep/down/run');
    publish(folder, newRun, (checked) => {
      expect(readFileSync(join(checked, 'loop.nc'), 'utf8')).toBe('M2');
      expect(existsSync(folder)).toBe(false);
      return [];
    });
    expect(readdirSync(folder)).toHaveLength(2);
  });

  it('keeps the earlier run where the check finds an error, and names the folder that was asked for', () => {
    const folder = folderWith('run', 'run.json');
    const wrong = (checked: string): Finding[] => [
      {
        severity: 'error',
        rule: 'x',
        message: 'bad.',
        todo: '',
        where: { file: `${checked}/a.nc` },
      },
    ];
    expect(() => publish(folder, newRun, wrong)).toThrow(`${folder}/a.nc: bad.`);
    expect(readdirSync(root)).toEqual(['run']);
    expect(readFileSync(join(folder, 'run.json'), 'utf8')).toBe('run.json');
  });

  it('writes a text that comes in pieces, more than are held at once, as the same text whole', () => {
    const pieces = Array.from({ length: 300_000 }, (_, i) => `N${i} Größe\n`);
    const made = { [Symbol.iterator]: () => pieces.values() };
    const files = new Map<string, string | Iterable<string>>([
      ...newRun,
      ['loop.nc', made],
      ['none.nc', []],
    ]);
    publish(join(root, 'run'), files, fine);
    expect(readFileSync(join(root, 'run/loop.nc'), 'utf8') === pieces.join('')).toBe(true);
    expect(readFileSync(join(root, 'run/none.nc'), 'utf8')).toBe('');
  });

  it('leaves nothing where a text fails on the way', () => {
    const failing = function* (): Generator<string> {
      yield 'G0';
      throw new RangeError('broken');
    };
    const files = new Map<string, string | Iterable<string>>([...newRun, ['a.nc', failing()]]);
    expect(() => publish(join(root, 'run'), files, fine)).toThrow('broken');
    expect(readdirSync(root)).toEqual([]);
  });

  it('lets warnings pass', () => {
    const warning: Finding = { severity: 'warning', rule: 'x', message: '', todo: '', where: {} };
    publish(join(root, 'run'), newRun, () => [warning]);
    expect(readdirSync(root)).toEqual(['run']);
  });

  it('leaves nothing where the check itself fails', () => {
    const failing = (): never => {
      throw new RangeError('broken');
    };
    expect(() => publish(join(root, 'run'), newRun, failing)).toThrow('broken');
    expect(readdirSync(root)).toEqual([]);
  });

  it('refuses in words under a file', () => {
    const file = join(folderWith('target', 'run.json'), 'run.json');
    expect(() => publish(join(file, 'run'), newRun, fine)).toThrow(Refusal);
    expect(readdirSync(join(root, 'target'))).toEqual(['run.json']);
  });
});
