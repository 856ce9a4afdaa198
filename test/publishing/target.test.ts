import { spawnSync } from 'node:child_process';
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { sha256 } from '../../src/base/sha256.ts';
import { listText } from '../../src/publishing/file-list.ts';
import type { Target } from '../../src/publishing/target.ts';
import {
  claimTarget,
  clearAfterThread,
  derivedFolder,
  runFolder,
} from '../../src/publishing/target.ts';
import { isUnfinished, unfinishedName } from '../../src/publishing/unfinished.ts';
import { folderWith } from './folder-with.ts';

let root = '';

beforeEach(() => {
  root = mkdtempSync(join(tmpdir(), 'target-'));
});

afterEach(() => {
  rmSync(root, { recursive: true });
});

/** The same, with a list of these files, as an earlier run leaves it. */
function writtenFolder(name: string, ...files: string[]): string {
  const folder = folderWith(root, name, ...files);
  const list = new Map(files.map((file) => [file, sha256(file)]));
  writeFileSync(join(folder, 'SHA256SUMS'), listText(list));
  return folder;
}

function claimed(...request: Parameters<typeof claimTarget>): Target {
  const target = claimTarget(...request);
  target.release();
  return target;
}

/** A number that no process has: that of one which has just ended. */
function endedProcess(): number {
  return spawnSync(process.execPath, ['-e', '']).pid;
}

describe('claimTarget', () => {
  it('takes a folder that is not there yet, an empty one, and with force an earlier run', () => {
    claimed(join(root, 'a/b/c'), runFolder, false);
    claimed(folderWith(root, 'empty'), runFolder, false);
    claimed(writtenFolder('run', 'run.json', 'sheet.html', 'loop.nc'), runFolder, true);
    expect(readdirSync(root).sort()).toEqual(['empty', 'run']);
    expect(readdirSync(join(root, 'run'))).toHaveLength(4);
  });

  it('takes an earlier run whose programs were withdrawn, or which has lost a file', () => {
    const folder = writtenFolder('run', 'run.json', 'loop.nc', 'sheet.html');
    rmSync(join(folder, 'sheet.html'));
    rmSync(join(folder, 'loop.nc'));
    writeFileSync(join(folder, 'loop.nc.withdrawn'), 'loop.nc');
    expect(claimed(folder, runFolder, true).asked).toBe(folder);
  });

  it.each([
    ['an earlier run without force', ['run.json', 'loop.nc'], [], false, 'exists already'],
    ['a run with a drawing of a person', ['run.json'], ['van.dxf'], true, 'did not write: van.dxf'],
    ['a run with a letter in it', ['run.json'], ['letter.pdf'], true, 'did not write: letter.pdf'],
    ['a run with a folder in it', ['run.json'], ['photos/a.jpg'], true, 'photos/a.jpg'],
    ['the folder of a derived set', ['changes.csv'], [], true, 'not a run (SHA256SUMS and 1 more)'],
  ])('refuses %s, and touches nothing', (_, written, added, force, words) => {
    const folder = writtenFolder('target', ...written);
    folderWith(root, 'target', ...added);
    expect(() => claimTarget(folder, runFolder, force)).toThrow(words);
    for (const name of [...written, ...added]) {
      expect(readFileSync(join(folder, name), 'utf8')).toBe(name);
    }
    expect(readdirSync(root)).toEqual(['target']);
  });

  it('refuses a folder of something else, and one whose list is none', () => {
    expect(() => claimTarget(folderWith(root, 'letters', 'letter.pdf'), runFolder, true)).toThrow(
      'something that is not a run (letter.pdf)',
    );
    expect(() => claimTarget(folderWith(root, 'bare', 'run.json'), runFolder, true)).toThrow(
      'list of its files is missing',
    );
    const spoilt = folderWith(root, 'spoilt', 'run.json', 'SHA256SUMS');
    expect(() => claimTarget(spoilt, runFolder, true)).toThrow('SHA256SUMS:1');
  });

  it('refuses what was changed since it was written, also in a program that was withdrawn', () => {
    const folder = writtenFolder('run', 'run.json', 'cost.csv', 'loop.nc');
    writeFileSync(join(folder, 'cost.csv'), 'with the prices of the office');
    rmSync(join(folder, 'loop.nc'));
    writeFileSync(join(folder, 'loop.nc.withdrawn'), 'a slower feed');
    expect(() => claimTarget(folder, runFolder, true)).toThrow(
      'was changed since: cost.csv, loop.nc',
    );
  });

  it('passes over what systems leave in folders by themselves', () => {
    const folder = writtenFolder('run', 'run.json');
    folderWith(root, 'run', '.DS_Store', 'Thumbs.db');
    expect(claimed(folder, runFolder, true).asked).toBe(folder);
  });

  it('takes the folders of a derived set, and none with something added', () => {
    const folder = writtenFolder('derived', 'changes.csv', 'parts/mat-left.dxf', 'set/set.yaml');
    claimed(folder, derivedFolder, true);
    writeFileSync(join(folder, 'set/set.yaml'), 'corrected by hand');
    expect(() => claimTarget(folder, derivedFolder, true)).toThrow('changed since: set/set.yaml');
  });

  it('never writes over what is of no kind', () => {
    expect(() => claimTarget(writtenFolder('set', 'set.yaml'), null, true)).toThrow('exists');
  });

  it('refuses a file, a folder under a file, and a link that leads nowhere', () => {
    const file = join(folderWith(root, 'target', 'run.json'), 'run.json');
    expect(() => claimTarget(file, runFolder, true)).toThrow(`${file}: this or what it lies in`);
    expect(() => claimTarget(join(file, 'a/b'), runFolder, true)).toThrow(`${file} is a file`);
    symlinkSync(join(root, 'nowhere'), join(root, 'link'));
    expect(() => claimTarget(join(root, 'link'), runFolder, true)).toThrow('leads nowhere');
  });

  it('refuses a name that other systems do not take', () => {
    expect(() => claimTarget(join(root, 'aux'), runFolder, false)).toThrow('device');
    expect(() => claimTarget(join(root, 'a:b'), runFolder, false)).toThrow('":"');
  });

  it('writes through a link into the folder that it leads to, and keeps the link', () => {
    const folder = writtenFolder('disk/run', 'run.json');
    symlinkSync(folder, join(root, 'link'));
    const target = claimTarget(join(root, 'link'), runFolder, true);
    writeFileSync(join(target.partial, 'run.json'), 'new');
    target.replace();
    expect(readFileSync(join(folder, 'run.json'), 'utf8')).toBe('new');
    expect(readFileSync(join(root, 'link/run.json'), 'utf8')).toBe('new');
    expect(readdirSync(root).sort()).toEqual(['disk', 'link']);
  });

  it('refuses a folder to which another process is writing, and leaves that alone', () => {
    const folder = join(root, 'run');
    const other = `${folder}.partial-${process.ppid}-0`;
    mkdirSync(other);
    expect(() => claimTarget(folder, runFolder, true)).toThrow(`process ${process.ppid}`);
    expect(readdirSync(root)).toEqual([`run.partial-${process.ppid}-0`]);
  });

  it('refuses at the end where another has written the folder meanwhile', () => {
    const folder = join(root, 'run');
    const target = claimTarget(folder, runFolder, false);
    writeFileSync(join(target.partial, 'run.json'), 'second');
    writtenFolder('run', 'run.json');
    expect(() => target.replace()).toThrow('this run exists already');
    target.release();
    expect(readFileSync(join(folder, 'run.json'), 'utf8')).toBe('run.json');
    expect(readdirSync(root)).toEqual(['run']);
  });

  it('refuses at the end where a person has put something into the folder meanwhile', () => {
    const folder = writtenFolder('run', 'run.json');
    const target = claimTarget(folder, runFolder, true);
    folderWith(root, 'run', 'letter.pdf');
    expect(() => target.replace()).toThrow('letter.pdf');
    target.release();
    expect(existsSync(join(folder, 'letter.pdf'))).toBe(true);
  });

  it('removes what a killed program left half written, of this folder alone', () => {
    const ended = endedProcess();
    folderWith(root, `run.partial-${ended}-0`, 'run.json');
    folderWith(root, `run-2.partial-${ended}-0`, 'run.json');
    claimed(join(root, 'run'), runFolder, false);
    expect(readdirSync(root)).toEqual([`run-2.partial-${ended}-0`]);
  });

  it('gives an earlier run its name back where the program was killed in between', () => {
    const ended = endedProcess();
    writtenFolder(`run.old-${ended}-3`, 'run.json');
    folderWith(root, `run.partial-${ended}-3`, 'run.json');
    claimed(join(root, 'run'), runFolder, true);
    expect(readdirSync(root)).toEqual(['run']);
    expect(readFileSync(join(root, 'run/run.json'), 'utf8')).toBe('run.json');
  });
});

describe('what a thread leaves that was ended in the midst of its work', () => {
  const left = (what: string): string => `run.${what}-${process.pid}-99`;

  it('is removed, and another program at work is left alone', () => {
    writtenFolder('run', 'run.json');
    const other = `run.partial-${process.ppid}-0`;
    for (const name of [left('partial'), other]) folderWith(root, name, 'new.json');
    clearAfterThread(join(root, 'run'));
    expect(readdirSync(root)).toEqual(['run', other]);
    expect(readdirSync(join(root, 'run'))).toContain('run.json');
  });

  it('gives the folder before its name back where both were changing places', () => {
    writtenFolder(left('old'), 'run.json');
    folderWith(root, left('partial'), 'new.json');
    clearAfterThread(join(root, 'run'));
    expect(readdirSync(root)).toEqual(['run']);
    expect(readFileSync(join(root, 'run/run.json'), 'utf8')).toBe('run.json');
  });
});

describe('isUnfinished', () => {
  it('knows the names that are given to what is being written, and no other', () => {
    expect(isUnfinished(unfinishedName('out/run', 'partial'))).toBe(true);
    expect(isUnfinished(unfinishedName('run', 'old'))).toBe(true);
    expect(['run', 'run.partial', 'run.old-2', 'run.partial-1-2.nc'].some(isUnfinished)).toBe(
      false,
    );
  });
});
