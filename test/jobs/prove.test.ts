import {
  appendFileSync,
  copyFileSync,
  cpSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';

import { join } from 'node:path';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { cut } from '../../src/jobs/cut.ts';
import { proveFolder } from '../../src/jobs/prove.ts';
import { sha256 } from '../../src/base/sha256.ts';
import { listText } from '../../src/publishing/file-list.ts';
import { withdrawPrograms } from '../../src/publishing/withdraw.ts';
import { openWorkshop, runFile, wren } from '../support/wren.ts';

const { root, close } = openWorkshop(wren);
const made = join(root, 'out/week');
/** A copy of the run folder, for one test to spoil. */
const folder = join(root, 'stick/week');

beforeAll(async () => {
  const sharedFolder = join(root, 'shared');
  await cut({ runFile: join(root, runFile), sharedFolder, out: made, force: false });
});

beforeEach(() => {
  rmSync(folder, { recursive: true, force: true });
  cpSync(made, folder, { recursive: true });
});

afterAll(close);

/** What the proof says of the copy: severity, rule, and the words. */
function said(): { words: string; rules: string[] } {
  const { findings } = proveFolder(folder);
  return {
    words: findings
      .map(({ severity, where, message }) => `${severity} ${where.file} ${message}`)
      .join('\n'),
    rules: findings.map(({ rule }) => rule),
  };
}

describe('a run folder held against the list of its files', () => {
  it('is proven as it was written, wherever it was copied to', () => {
    const { findings, mayBeCut, unchanged } = proveFolder(folder);
    expect({ findings, mayBeCut }).toEqual({ findings: [], mayBeCut: true });
    expect([...unchanged].sort()).toEqual(readdirSync(folder).sort());
  });

  it('is not, with a program that another hand has put there', () => {
    copyFileSync(join(folder, 'loop.nc'), join(folder, 'extra.nc'));
    const { words, rules } = said();
    expect(rules).toEqual(['not-listed']);
    expect(words).toMatch(/^error .*the run did not write extra\.nc\./);
    expect(proveFolder(folder).mayBeCut).toBe(false);
  });

  it('is told what else lies in it, and may still be cut', () => {
    writeFileSync(join(folder, 'notes.txt'), 'ask about the sill');
    mkdirSync(join(folder, 'photos'));
    const { words, rules } = said();
    expect(rules).toEqual(['not-listed']);
    expect(words).toMatch(/^warning .*notes\.txt, photos\/\./);
  });

  it.each(['sheet.pdf', 'labels.pdf', 'sewing-A1.html', 'parts.csv', 'loop.svg'])(
    'is not, where a paper was changed: %s',
    (paper) => {
      appendFileSync(join(folder, paper), ' ');
      const { words, rules } = said();
      expect(rules).toEqual(['changed-file']);
      expect(words).toContain(`no longer as it was written: ${paper}.`);
      expect(proveFolder(folder).mayBeCut).toBe(true);
    },
  );

  it('is not, where papers are missing, and says which', () => {
    rmSync(join(folder, 'sewing-A1.pdf'));
    rmSync(join(folder, 'labels.pdf'));
    const { words, rules } = said();
    expect(rules).toEqual(['missing-file']);
    expect(words).toContain('missing from this folder: labels.pdf, sewing-A1.pdf.');
  });

  it('says of a changed program whether it still cuts what the lay asks', () => {
    const program = join(folder, 'loop.nc');
    const text = readFileSync(program, 'utf8');
    writeFileSync(program, text.replaceAll(/^(G1 X.*)$/gm, '$1 '));
    expect(said().words).toContain('still agrees with the lay');
    const depth = /^G1 Z-.*$/m.exec(text)![0];
    writeFileSync(program, text.replace(`${depth}\n`, ''));
    expect(said().words).toContain('does not agree with the lay either');
  });

  it('is not, where the record was changed: what it says no longer fits its hash', () => {
    const record = join(folder, 'run.json');
    writeFileSync(record, readFileSync(record, 'utf8').replace('"dyeLot": "7"', '"dyeLot": "8"'));
    expect(said().rules).toContain('changed-file');
  });

  it('is not, where a link stands for a file', () => {
    rmSync(join(folder, 'loop.nc'));
    symlinkSync(join(made, 'loop.nc'), join(folder, 'loop.nc'));
    expect(said().rules).toContain('changed-file');
  });

  it.each([
    ['that is not there', null],
    ['with a line that is none', 'run.json\n'],
    ['with a file twice', `${'0'.repeat(64)}  run.json\n${'0'.repeat(64)}  run.json\n`],
  ])('is not, with a list %s', (_, text) => {
    const list = join(folder, 'SHA256SUMS');
    if (text === null) rmSync(list);
    else writeFileSync(list, text);
    expect(said().rules).toEqual(['file-list']);
  });

  it('names the files that a list leaves out', () => {
    const list = join(folder, 'SHA256SUMS');
    writeFileSync(list, readFileSync(list, 'utf8').replace(/^.* {2}sheet\.html\n/m, ''));
    expect(said().words).toContain('did not write sheet.html');
  });

  /** Makes the list anew as somebody would who wants all to look well. */
  function listAnew(): void {
    const names = readdirSync(folder).filter((name) => name !== 'SHA256SUMS');
    const list = names.map((name) => [name, sha256(readFileSync(join(folder, name)))] as const);
    writeFileSync(join(folder, 'SHA256SUMS'), listText(new Map(list)));
  }

  it('names a program that the run never had, whatever the list says', () => {
    copyFileSync(join(folder, 'loop.nc'), join(folder, 'loop.bite-4.nc'));
    copyFileSync(join(folder, 'loop.nc'), join(folder, 'loop-old.nc'));
    listAnew();
    const { words, rules } = said();
    expect(rules).toEqual(['not-listed']);
    expect(words).toContain('did not write loop-old.nc, loop.bite-4.nc');
    expect(proveFolder(folder).mayBeCut).toBe(false);
  });

  it('names papers that are gone, whatever the list says', () => {
    for (const name of ['labels.pdf', 'fitting-A2.svg', 'cost.pdf']) rmSync(join(folder, name));
    listAnew();
    const { words, rules } = said();
    expect(rules).toEqual(['missing-file']);
    for (const name of ['labels.pdf', 'fitting-A2.svg', 'cost.pdf']) expect(words).toContain(name);
  });

  it.each(['loop.tap', 'PROGRAM', 'loop.NC'])('takes no %s for a paper', (name) => {
    copyFileSync(join(folder, 'loop.nc'), join(folder, name));
    expect(proveFolder(folder).mayBeCut).toBe(false);
  });

  it('warns where the folder is called otherwise than its run', () => {
    const other = join(root, 'stick/another');
    cpSync(made, other, { recursive: true });
    expect(proveFolder(other).findings).toMatchObject([
      { severity: 'warning', rule: 'other-name' },
    ]);
    rmSync(other, { recursive: true });
  });

  it('tells which program was changed, also once all are withdrawn', () => {
    appendFileSync(join(folder, 'loop.nc'), '(slower)\n');
    withdrawPrograms(folder);
    expect(said().words).toContain('loop.nc this is no longer as it was written');
    expect(said().words).not.toContain('did not write');
  });
});
