import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { refuse, Refusal } from '../base/findings.ts';
import { readRunRecord } from '../program/record/record.ts';
import type { RunRecord } from '../program/record/run-record.ts';

/**
 * Refuses to write over a folder that holds another run: a wrong --out must not cost a run that is still
 * to be cut. `isSame` tells an earlier run of the same kind by its record. A record that cannot be read is
 * left to those who write over it.
 */
export function refuseOtherRun(folder: string, isSame: (record: RunRecord) => boolean): void {
  const record = recordIn(folder);
  if (record === null || isSame(record)) return;
  const { run, title, recutOf } = record;
  refuse(
    'target',
    `this folder holds another run: "${run}", ${title}${recutOf === null ? '' : ', a recut'}.`,
    'Name another one with --out. If nobody needs that run any more, delete its folder first.',
    { file: folder },
  );
}

/** The record of a run folder; null: there is none, or it cannot be read. */
export function recordIn(folder: string): RunRecord | null {
  const file = join(folder, 'run.json');
  if (!existsSync(file)) return null;
  try {
    return readRunRecord(file);
  } catch (error) {
    if (error instanceof Refusal) return null;
    throw error;
  }
}
