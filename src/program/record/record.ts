import { join } from 'node:path';
import { readText, readYaml } from '../../base/yaml.ts';
import type { Part } from '../../handing/part.ts';
import { fingerprintOf } from './fingerprint.ts';
import { writeJson } from './json.ts';
import type { LayToRecord } from './lay-record.ts';
import { layRecord } from './lay-record.ts';
import type { SaidOfPart } from './part-record.ts';
import { partRecord } from './part-record.ts';
import type { RunRecord } from './run-record.ts';
import { runRecordSchema } from './schema.ts';

/** What the stages before have left of a run, to be recorded. */
export interface RunToRecord extends Omit<RunRecord, 'format' | 'parts' | 'lays'> {
  readonly parts: readonly Part[];
  readonly lays: readonly LayToRecord[];
  /** What is said of each part for the bench, by its label. */
  readonly said: ReadonlyMap<string, SaidOfPart>;
}

/**
 * What run.json says about a run. Numbers are rounded to six decimals, and edges are added up by kind.
 */
export function runRecord(run: RunToRecord): RunRecord {
  return {
    format: 3,
    run: run.run,
    title: run.title,
    recutOf: run.recutOf,
    inputs: run.inputs,
    cutter: run.cutter,
    materials: run.materials,
    orders: run.orders,
    inches: run.inches,
    labelStock: run.labelStock,
    ...(run.bench === undefined ? {} : { bench: run.bench }),
    parts: run.parts.map((part) => partRecord(part, run.said.get(part.label) ?? { next: [] })),
    lays: run.lays.map(layRecord),
  };
}

/** The text of run.json. The same run gives the same bytes. */
export function writeRunRecord(record: RunRecord): string {
  return writeJson(record);
}

/** A record, and what programs and papers of its run bear. */
export interface RecordedRun {
  readonly run: RunRecord;
  readonly fingerprint: string;
}

/** Reads the run.json of a run folder with its fingerprint. Throws a Refusal as readRunRecord does. */
export function readRecorded(folder: string): RecordedRun {
  const file = join(folder, 'run.json');
  const text = readText(file, 'run record');
  return { run: recordIn(text, file), fingerprint: fingerprintOf(text) };
}

/** Reads a run.json. Throws a Refusal that names the place of everything that does not fit. */
export function readRunRecord(file: string): RunRecord {
  return recordIn(readText(file, 'run record'), file);
}

function recordIn(text: string, file: string): RunRecord {
  const quick = runRecordSchema.safeParse(parsedJson(text));
  if (quick.success) return quick.data;
  // JSON is YAML too. The YAML reader is slower but knows lines and columns, so it words the refusal.
  return readYaml(file, runRecordSchema, 'run record').value;
}

function parsedJson(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}
