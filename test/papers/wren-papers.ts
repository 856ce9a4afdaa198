import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import Papa from 'papaparse';
import { cut } from '../../src/jobs/cut.ts';
import type { RunFacts } from '../../src/papers/facts/run-facts.ts';
import type { RunRecord } from '../../src/program/record/run-record.ts';
import type { Files } from '../support/wren.ts';
import { inFolder, runFile, wren } from '../support/wren.ts';

/** A run of the Wren with what was written of it. */
export interface WrittenRun {
  readonly facts: RunFacts;
  readonly record: RunRecord;
  readonly files: ReadonlyMap<string, Uint8Array>;
  readonly text: (name: string) => string;
}

/** Cuts the Wren's orders into a folder that is gone afterwards. */
export async function writtenRun(files: Files = wren): Promise<WrittenRun> {
  return inFolder(files, async (root) => {
    const out = join(root, 'out/wren-week');
    const facts = await cut({
      runFile: join(root, runFile),
      sharedFolder: join(root, 'shared'),
      out,
      force: false,
    });
    const written = new Map(
      readdirSync(out).map((name) => [name, new Uint8Array(readFileSync(join(out, name)))]),
    );
    const text = (name: string): string => new TextDecoder().decode(written.get(name));
    return { facts, files: written, record: JSON.parse(text('run.json')) as RunRecord, text };
  });
}

/** The rows of a CSV file below its head, as another reader has them. */
export function csvRows(text: string): string[][] {
  const { data } = Papa.parse<string[]>(text.replace(/^\uFEFF/, ''), { skipEmptyLines: true });
  return data.slice(1);
}
