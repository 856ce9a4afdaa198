import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Finding } from '../../src/base/findings.ts';
import { Refusal } from '../../src/base/findings.ts';
import { changesSince, readList } from '../../src/publishing/file-list.ts';
import { publishAtOnce } from '../../src/publishing/publish.ts';
import { runFolder } from '../../src/publishing/target.ts';
import { outside } from '../support/outside.ts';
import { folderWith } from './folder-with.ts';

/** The program by which anybody can check a list of files (coreutils). */
const coreutils = outside('sha256sum', spawnSync('sha256sum', ['--version']).status === 0);

let root = '';

beforeEach(() => {
  root = mkdtempSync(join(tmpdir(), 'publish-'));
});

afterEach(() => {
  rmSync(root, { recursive: true });
});

const newRun = new Map([
  ['run.json', 'new'],
  ['loop.nc', 'M2'],
]);
const fine = (): Finding[] => [];

/** Publishes into a folder, with force, as a job does. */
function publishInto(
  folder: string,
  files: Parameters<typeof publishAtOnce>[1],
  check: (folder: string) => Finding[],
): void {
  publishAtOnce([folder, runFolder, true], files, check);
}

describe('publish', () => {
  it('puts exactly the new files under the name, and nothing beside it', () => {
    const folder = join(root, 'run');
    publishInto(
      folder,
      new Map([
        ['run.json', 'old'],
        ['old.nc', 'M2'],
      ]),
      fine,
    );
    publishInto(folder, newRun, fine);
    expect(readdirSync(root)).toEqual(['run']);
    expect(readdirSync(folder).sort()).toEqual(['SHA256SUMS', 'loop.nc', 'run.json']);
    expect(readFileSync(join(folder, 'run.json'), 'utf8')).toBe('new');
  });

  it.skipIf(!existsSync('/proc/self'))('says so where no folder can be made at all', () => {
    expect(() => publishInto('/proc/run', newRun, fine)).toThrow('/proc/run: writing failed');
  });

  it('has the files checked before they bear the name', () => {
    const folder = join(root, 'deep/down/run');
    publishInto(folder, newRun, (checked) => {
      expect(readFileSync(join(checked, 'loop.nc'), 'utf8')).toBe('M2');
      expect(existsSync(folder)).toBe(false);
      return [];
    });
    expect(readdirSync(folder)).toHaveLength(3);
  });

  it('keeps the earlier run where the check finds an error, and names the folder that was asked for', () => {
    const folder = join(root, 'run');
    publishInto(folder, new Map([['run.json', 'first']]), fine);
    const wrong = (checked: string): Finding[] => [
      {
        severity: 'error',
        rule: 'x',
        message: 'bad.',
        todo: '',
        where: { file: `${checked}/a.nc` },
      },
    ];
    expect(() => publishInto(folder, newRun, wrong)).toThrow(`${folder}/a.nc: bad.`);
    expect(readdirSync(root)).toEqual(['run']);
    expect(readFileSync(join(folder, 'run.json'), 'utf8')).toBe('first');
  });

  it('writes a text that comes in pieces, more than are held at once, as the same text whole', () => {
    const pieces = Array.from({ length: 300_000 }, (_, i) => `N${i} Größe\n`);
    const made = { [Symbol.iterator]: () => pieces.values() };
    const files = new Map<string, string | Iterable<string>>([
      ...newRun,
      ['loop.nc', made],
      ['none.nc', []],
    ]);
    publishInto(join(root, 'run'), files, fine);
    expect(readFileSync(join(root, 'run/loop.nc'), 'utf8') === pieces.join('')).toBe(true);
    expect(readFileSync(join(root, 'run/none.nc'), 'utf8')).toBe('');
  });

  it('leaves nothing where a text fails on the way', () => {
    const failing = function* (): Generator<string> {
      yield 'G0';
      throw new RangeError('broken');
    };
    const files = new Map<string, string | Iterable<string>>([...newRun, ['a.nc', failing()]]);
    expect(() => publishInto(join(root, 'run'), files, fine)).toThrow('broken');
    expect(readdirSync(root)).toEqual([]);
  });

  it.each([
    ['a.nc', 'A.NC', 'large and small letters'],
    ['parts/con.dxf', 'b.nc', 'device'],
  ])('refuses names that do not travel: %s beside %s', (first, second, words) => {
    const files = new Map([...newRun, [first, ''], [second, '']]);
    expect(() => publishInto(join(root, 'run'), files, fine)).toThrow(words);
    expect(readdirSync(root)).toEqual([]);
  });

  it('lets warnings pass', () => {
    const warning: Finding = { severity: 'warning', rule: 'x', message: '', todo: '', where: {} };
    publishInto(join(root, 'run'), newRun, () => [warning]);
    expect(readdirSync(root)).toEqual(['run']);
  });

  it('leaves nothing where the check itself fails', () => {
    const failing = (): never => {
      throw new RangeError('broken');
    };
    expect(() => publishInto(join(root, 'run'), newRun, failing)).toThrow('broken');
    expect(readdirSync(root)).toEqual([]);
  });

  it('refuses in words under a file', () => {
    const file = join(folderWith(root, 'target', 'run.json'), 'run.json');
    expect(() => publishInto(join(file, 'run'), newRun, fine)).toThrow(Refusal);
    expect(readdirSync(join(root, 'target'))).toEqual(['run.json']);
  });

  it.skipIf(coreutils.missing)(
    `lists every file so that sha256sum, too, finds all of them, and each change${coreutils.note}`,
    () => {
      const folder = join(root, 'run');
      const files = new Map<string, string | Uint8Array | Iterable<string>>([
        ...newRun,
        ['Größe.html', 'Größe'],
        ['sheet.pdf', new Uint8Array([0, 10, 13, 255])],
        ['pieces.nc', ['G0\n', 'M2\n']],
      ]);
      publishInto(folder, files, fine);
      const check = () =>
        spawnSync('sha256sum', ['--check', '--strict', 'SHA256SUMS'], {
          cwd: folder,
          encoding: 'utf8',
        });
      const { status, stdout } = check();
      expect(status).toBe(0);
      expect(stdout.trim().split('\n')).toHaveLength(files.size);
      expect(changesSince(folder, readList(folder))).toEqual({
        changed: [],
        missing: [],
        strangers: [],
        withdrawn: [],
      });
      writeFileSync(join(folder, 'pieces.nc'), 'G0\nM2');
      expect(check().status).not.toBe(0);
      expect(changesSince(folder, readList(folder)).changed).toEqual(['pieces.nc']);
    },
  );
});
