import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Job } from '../../../src/run/job.ts';
import { readJob } from '../../../src/run/job.ts';
import { jobOf } from '../../../src/web/tasks/cached-job.ts';
import { drawingFile, runFile, setFile } from '../../support/wren.ts';
import { shopForEach } from '../in-shop.ts';

const inShop = shopForEach();

const job = (): Job => jobOf(inShop().shop, 'wren-week');

function change(file: string, from: string | RegExp, to: string): void {
  const path = join(inShop().root, file);
  const before = readFileSync(path, 'utf8');
  const after = before.replace(from, to);
  expect(after).not.toBe(before);
  writeFileSync(path, after);
}

/** All that a job says, without functions. */
function said({ run, ...others }: Job): unknown {
  const { placeOf: _, ...plain } = run;
  return { ...others, run: plain, ordered: others.ordered.map(({ order }) => order) };
}

describe('the job of a run file', () => {
  it('derives nothing again where only the rolls are others, and is what it would be if it were read anew', () => {
    const { parts } = job();
    change(
      runFile,
      'length: 9000',
      'length: 8000, pins: [{ part: floor.1.A1, at: [900, 900], rotation: 90 }]',
    );
    expect(job().parts).toBe(parts);
    expect([job().run.rolls['loop']].flat()[0]).toMatchObject({ length: 8000 });
    expect(said(job())).toEqual(said(readJob(join(inShop().root, runFile), inShop().shop.shared)));
  });

  it('is read anew where anything else is', () => {
    for (const [file, from, to] of [
      [runFile, 'quantity: 2', 'quantity: 1'],
      [setFile, 'edge: bound, pad', 'edge: turned, pad'],
      ['shared/materials/loop.yaml', 'seam: 10', 'seam: 12'],
    ] as const) {
      const { parts } = job();
      change(file, from, to);
      expect(job().parts).not.toBe(parts);
      expect(said(job())).toEqual(
        said(readJob(join(inShop().root, runFile), inShop().shop.shared)),
      );
    }
    const { parts } = job();
    const drawing = join(inShop().root, drawingFile);
    writeFileSync(drawing, `${readFileSync(drawing, 'latin1')}\n`);
    expect(job().parts).not.toBe(parts);
  });

  it('refuses a roll of what no part is cut from', () => {
    job();
    change(runFile, 'rolls:', 'rolls:\n  cork: { length: 500 }');
    expect(job).toThrow(/a roll of "cork" is given/);
    change(runFile, '  cork: { length: 500 }', '');
    expect(job().parts.length).toBeGreaterThan(0);
  });
});
