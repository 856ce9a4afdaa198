import {
  mkdirSync,
  mkdtempSync,
  renameSync,
  rmSync,
  symlinkSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { Refusal } from '../../../src/base/findings.ts';
import { sha256 } from '../../../src/base/sha256.ts';
import { listText } from '../../../src/publishing/file-list.ts';
import type { ServerThreads } from '../../../src/web/tasks/threads.ts';
import type { RunFolders } from '../../../src/web/under-way/run-folders.ts';
import { openRunFolders } from '../../../src/web/under-way/run-folders.ts';
import type { Workshop } from '../../../src/web/workshop/workshop.ts';

// What a folder holds and whether it is proven is asked of a thread; here the test answers for it.

let root = '';
let shop: Workshop;
const written = new Map<string, string>();
let asked: string[] = [];
let isProven = true;
/** What has changed of the run since. */
let changes: string[] = [];
/** Done while the thread looks at the folder. */
let meanwhile = (): void => {};
let folders: RunFolders;

beforeEach(() => {
  root = mkdtempSync(join(tmpdir(), 'folders-'));
  shop = { patterns: join(root, 'patterns'), shared: join(root, 'shared'), out: join(root, 'out') };
  mkdirSync(join(shop.out, 'week'), { recursive: true });
  mkdirSync(shop.patterns);
  put('run.json', JSON.stringify({ inputs: [{ file: 'week.yaml', sha256: '' }] }));
  put('loop.nc', 'G0 X1');
  put('loop.dry.nc', 'G0 X1 and much that is never to be played before it is asked for');
  put('sheet.pdf', 'a sheet');
  writeFileSync(join(shop.patterns, 'week.yaml'), 'as it was');
  asked = [];
  isProven = true;
  changes = [];
  meanwhile = () => {};
  const threads = {
    run: async (task: string, args: unknown): Promise<unknown> => {
      const { lay } = args as { lay?: string };
      asked.push(lay === undefined ? task : `${task} ${lay}`);
      if (task === 'rehearse') return new ArrayBuffer(8);
      if (task === 'zip') return new Uint8Array([1]);
      if (task === 'standing') return { changes, rests: [] };
      meanwhile();
      const names = ['loop.nc', 'sheet.pdf', 'gone.nc'];
      const files = names.map((name) => ({
        name,
        what: name === 'sheet.pdf' ? 'sheet' : 'program',
        offered: isProven || name === 'sheet.pdf',
      }));
      return { name: 'week', proven: isProven, files };
    },
    close: async () => {},
  } as ServerThreads;
  folders = openRunFolders(shop, threads);
});

afterEach(() => rmSync(root, { recursive: true }));

function put(name: string, text: string): void {
  writeFileSync(join(shop.out, 'week', name), text);
  written.set(name, sha256(text));
  list();
}

/** Writes the list of what was put into the folder, as a run does. */
function list(): void {
  writeFileSync(join(shop.out, 'week/SHA256SUMS'), listText(written));
}

async function ruleOf(work: Promise<unknown>): Promise<string> {
  try {
    await work;
  } catch (error) {
    if (error instanceof Refusal) return error.findings[0]!.rule;
    throw error;
  }
  return 'given';
}

const proofs = (): number => asked.filter((task) => task === 'folder').length;
const standings = (): number => asked.filter((task) => task === 'standing').length;

describe('a run folder', () => {
  it('is proven once, and again whenever anything in it has changed', async () => {
    const steps: (() => void)[] = [
      () => {},
      () => put('loop.nc', 'G0 X2!'),
      () => utimesSync(join(shop.out, 'week/loop.nc'), 1, 1),
      () => put('new.txt', ''),
      () => renameSync(join(shop.out, 'week/new.txt'), join(shop.out, 'week/newer.txt')),
      () => rmSync(join(shop.out, 'week/newer.txt')),
      () => symlinkSync('nowhere', join(shop.out, 'week/link')),
    ];
    for (const [i, step] of steps.entries()) {
      step();
      await folders.folder('week');
      await folders.folder('week');
      expect([i, proofs()]).toEqual([i, i + 1]);
    }
  });

  it('is held against its run once, and again whenever what it was made from, or another run, has changed', async () => {
    const recut = join(shop.out, 'week-recut');
    const steps: (() => void)[] = [
      () => {},
      () => writeFileSync(join(shop.patterns, 'week.yaml'), 'orders: week.csv'),
      () => writeFileSync(join(shop.patterns, 'week.csv'), 'order'),
      () => writeFileSync(join(shop.patterns, 'week.csv'), 'order,set'),
      () => rmSync(join(shop.patterns, 'week.yaml')),
      () => mkdirSync(recut),
      () => writeFileSync(join(recut, 'run.json'), '{}'),
      () => rmSync(recut, { recursive: true }),
    ];
    for (const [i, step] of steps.entries()) {
      step();
      await folders.folder('week');
      await folders.folder('week');
      expect([i, standings(), proofs()]).toEqual([i, i + 1, 1]);
    }
  });

  it('that is older than its run gives papers, and nothing for a machine', async () => {
    changes = ['order 1052 was changed', 'the cutter was changed'];
    for (const given of [
      folders.file('week', 'loop.nc'),
      folders.zip('week'),
      folders.rehearsal('week', 'loop'),
    ]) {
      await expect(given).rejects.toThrow('before order 1052 was changed, and 1 more');
    }
    expect(await ruleOf(folders.zip('week'))).toBe('older-than-run');
    expect(await ruleOf(folders.file('week', 'sheet.pdf'))).toBe('given');
    expect(asked).not.toContain('zip');
    const { files, proven } = await folders.folder('week');
    expect(proven).toBe(true);
    expect(files.filter(({ offered }) => offered).map(({ name }) => name)).toEqual(['sheet.pdf']);
  });

  it('gives the bytes that were proven', async () => {
    const { bytes } = await folders.file('week', 'loop.nc');
    expect(Buffer.from(bytes).toString()).toBe('G0 X1');
    expect(await ruleOf(folders.file('week', 'other.nc'))).toBe('file');
    expect(await ruleOf(folders.file('week', '../week/loop.nc'))).toBe('file');
    expect(await ruleOf(folders.file('..', 'loop.nc'))).toBe('name');
    expect(await ruleOf(folders.folder('nowhere'))).toBe('file');
  });

  it('gives nothing that was changed in the same second and to the same length', async () => {
    const file = join(shop.out, 'week/loop.nc');
    utimesSync(file, 1, 1);
    await folders.folder('week');
    writeFileSync(file, 'G0 X7');
    utimesSync(file, 1, 1);
    expect(await ruleOf(folders.file('week', 'loop.nc'))).toBe('not-proven');
  });

  it('that is not proven gives papers, and nothing for a machine', async () => {
    isProven = false;
    expect(await ruleOf(folders.file('week', 'loop.nc'))).toBe('not-proven');
    expect(await ruleOf(folders.zip('week'))).toBe('not-proven');
    expect(await ruleOf(folders.file('week', 'sheet.pdf'))).toBe('given');
    expect(asked).not.toContain('zip');
  });

  it('that changes while it is proven is looked at again before anything is given', async () => {
    let times = 0;
    meanwhile = () => {
      if (times++ === 0) put('loop.nc', 'G0 X9999');
    };
    const { bytes } = await folders.file('week', 'loop.nc');
    expect(Buffer.from(bytes).toString()).toBe('G0 X9999');
    expect(proofs()).toBe(2);
  });

  it('that changes all the time is told to be changing, and nothing is given', async () => {
    let times = 0;
    meanwhile = () => put('loop.nc', `G0 X${'1'.repeat(times++)}`);
    expect(await ruleOf(folders.file('week', 'loop.nc'))).toBe('changing');
    expect(await ruleOf(folders.zip('week'))).toBe('changing');
  });

  it('has its program ready to be played, once for each state of it', async () => {
    await folders.folder('week');
    const first = await folders.rehearsal('week', 'loop');
    expect(await folders.rehearsal('week', 'loop')).toBe(first);
    expect(asked.filter((task) => task === 'rehearse loop')).toHaveLength(1);
    put('loop.nc', 'G0 X77');
    expect(await folders.rehearsal('week', 'loop')).not.toBe(first);
    expect(await ruleOf(folders.rehearsal('nowhere', 'loop'))).toBe('file');
  });
});
