import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { Refusal } from '../../src/base/findings.ts';
import { checkFileNames } from '../../src/jobs/file-names.ts';
import { readJob } from '../../src/run/job.ts';
import type { Files } from '../support/wren.ts';
import { openWorkshop, runFile, setFile, wren } from '../support/wren.ts';

/** What is said of the names of the files of a run. */
function said(files: Files): string {
  const { root, close } = openWorkshop(files);
  try {
    checkFileNames(readJob(join(root, runFile), join(root, 'shared')));
    return 'fine';
  } catch (error) {
    if (error instanceof Refusal) return error.message;
    throw error;
  } finally {
    close();
  }
}

/** The wren with another text in its run file. */
function withRun(from: string, to: string): Files {
  const text = String(wren[runFile]);
  expect(text).toContain(from);
  return { ...wren, [runFile]: text.replace(from, to) };
}

/** The wren, cut from a carpet of another name. */
function withCarpet(name: string): Files {
  return {
    ...wren,
    [`shared/materials/${name}.yaml`]: wren['shared/materials/loop.yaml']!,
    [setFile]: String(wren[setFile]).replaceAll('material: loop', `material: ${name}`),
    [runFile]: String(wren[runFile]).replace('loop:', `${name}:`),
  };
}

describe('names of files', () => {
  it('are fine as the wren gives them, and with several rolls', () => {
    expect(said(wren)).toBe('fine');
    expect(said(withRun('{ length: 9000,', '{ name: New, length: 9000,'))).toBe('fine');
    expect(said(withCarpet('fitting-a3'))).toBe('fine');
  });

  it.each([
    [
      'a carpet called like a device',
      withCarpet('con'),
      '"con.dxf", which is the name of a device',
    ],
    ['a carpet called like the papers of an order', withCarpet('fitting-a1'), 'both be written to'],
    ['orders that differ in size of letters', withRun('order: A2', 'order: a1'), 'large and small'],
    ['an order of 300 letters', withRun('A2', 'A'.repeat(300)), 'at most 40 letters'],
    [
      'a roll of 300 letters',
      withRun('{ length', `{ name: ${'n'.repeat(300)}, length`),
      'at most 40',
    ],
    ['a title beyond a sheet', withRun('Wren, three sets', 'W'.repeat(101)), 'at most 100 letters'],
    ['a title of 10 MB', withRun('Wren, three sets', 'W'.repeat(1e7)), 'at most 100 letters'],
    ['a colour beyond a label', withRun('black', 'b'.repeat(61)), 'at most 60 letters'],
  ])('are refused: %s', (_, files, words) => {
    const message = said(files);
    expect(message).toContain(words);
    expect(message.length).toBeLessThan(400);
  });
});
