import { mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { Refusal } from '../../../src/base/findings.ts';
import { openRunFile, saveRunFile } from '../../../src/web/workshop/run-file.ts';
import { runSteps } from '../../../src/web/workshop/run-history.ts';
import type { Workshop } from '../../../src/web/workshop/workshop.ts';

/** A disk as of Windows: what a program has open is not replaced; it is open for so many tries. */
const disk = vi.hoisted(() => ({ triesHeld: 0, code: 'EPERM' }));
vi.mock('node:fs', async (importOriginal) => {
  const fs = await importOriginal<typeof import('node:fs')>();
  const renameSync = (from: string, to: string): void => {
    if (disk.triesHeld === 0) return fs.renameSync(from, to);
    disk.triesHeld -= 1;
    throw Object.assign(new Error('not permitted'), { code: disk.code });
  };
  return { ...fs, renameSync };
});

const text = 'title: x # mine\ncutter: y\norders:\n  - { order: A1, set: wren, hand: RHD }\n';
let shop: Workshop;

beforeEach(() => {
  const root = mkdtempSync(join(tmpdir(), 'held-open-'));
  shop = { patterns: join(root, 'patterns'), shared: join(root, 'shared'), out: join(root, 'out') };
  mkdirSync(shop.patterns);
  writeFileSync(join(shop.patterns, 'week.yaml'), text);
});

afterEach(() => {
  disk.triesHeld = 0;
  rmSync(join(shop.patterns, '..'), { recursive: true });
});

function save(): void {
  const { content, version } = openRunFile(shop, 'week');
  saveRunFile(shop, 'week', { ...content, title: 'z' }, version);
}

const written = (): string => readFileSync(join(shop.patterns, 'week.yaml'), 'utf8');

it.each(['EPERM', 'EACCES', 'EBUSY'])(
  'a run file that is open for a moment is saved (%s)',
  (code) => {
    Object.assign(disk, { triesHeld: 3, code });
    save();
    expect(written()).toBe(text.replace('title: x', 'title: z'));
  },
);

it('one that stays open is left as it is, and that is said', () => {
  disk.triesHeld = 1000;
  expect(save).toThrow(/another program has a file here open/);
  expect(save).toThrow(Refusal);
  expect(written()).toBe(text);
  expect(readdirSync(shop.patterns)).toEqual(['week.history', 'week.yaml']);
  // What was not saved cannot be taken back.
  expect(runSteps(shop, 'week').undo).toBeNull();
});

it('any other failure is told at once', () => {
  Object.assign(disk, { triesHeld: 1, code: 'ENOSPC' });
  expect(save).toThrow(/the disk is full/);
  expect(written()).toBe(text);
});
