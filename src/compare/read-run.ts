import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { polyline } from '../geometry/paths/path.ts';
import type { Transform } from '../geometry/paths/transform.ts';
import { transformPath } from '../geometry/paths/transform.ts';
import { placementTransform } from '../lay/lay.ts';
import { readRunRecord } from '../program/record/record.ts';
import { recordedPart } from '../program/record/part-record.ts';
import type { LayRecord, PartRecord, RunRecord } from '../program/record/run-record.ts';
import { recordedName } from '../program/record/run-record.ts';
import type { Comparable, Detail, Item } from './comparable.ts';
import { flatWords } from './word-differences.ts';

export function isRunFolder(folder: string): boolean {
  return existsSync(join(folder, 'run.json'));
}

/**
 * Keys of the record that are not compared as words: they are geometry, are compared by themselves, or
 * follow from others.
 */
const noWords = new Set([
  'format',
  'inputs',
  'parts',
  'placements',
  'cutContour',
  'netContour',
  'inner',
  'notches',
  'marks',
  'stretches',
  'edges',
  'netArea',
  'cutArea',
  'label',
  'length',
  'density',
  'bites',
  'defects',
  'rollOutline',
  'lays',
]);

/**
 * Reads a run folder for comparison: its parts as they lie on their rolls, face up, in the order in which
 * its programs cut them. Throws a Refusal.
 */
export function comparableRun(folder: string): Comparable {
  const run = readRunRecord(join(folder, 'run.json'));
  const records = new Map(run.parts.map((part) => [part.label, part]));
  return {
    kind: 'run',
    items: run.lays.flatMap((lay) => [...layItems(lay, records, folder), ...rollItems(lay)]),
    words: { ...flatWords(run, noWords), ...layWords(run) },
    texts: [],
    lengths: Object.fromEntries(run.lays.map((lay) => [recordedName(lay), lay.length])),
  };
}

function layWords({ lays }: RunRecord): Record<string, string> {
  return Object.assign(
    {},
    ...lays.map((lay) => flatWords(lay, noWords, `roll ${recordedName(lay)}`)),
  ) as Record<string, string>;
}

/** The defects of a roll and the outline of a remnant, as items. */
function rollItems(lay: LayRecord): Item[] {
  const sheet = recordedName(lay);
  const of = (what: string, polygon: LayRecord['defects'][number]): Item => ({
    label: null,
    what,
    side: null,
    outline: polyline(
      polygon.map(([x, y]) => ({ x, y })),
      true,
    ),
    details: [],
    rank: null,
    words: {},
    sheet,
  });
  return [
    ...lay.defects.map((defect) => of('defect', defect)),
    ...(lay.rollOutline === null ? [] : [of('remnant', lay.rollOutline)]),
  ];
}

function layItems(
  lay: LayRecord,
  records: ReadonlyMap<string, PartRecord>,
  folder: string,
): Item[] {
  const sheet = recordedName(lay);
  const ranks = cuttingRanks(join(folder, `${sheet}.nc`));
  return lay.placements.flatMap((placement): Item[] => {
    const record = records.get(placement.label);
    if (record === undefined) return [];
    return [
      {
        ...partItem(record, placementTransform(placement)),
        rank: ranks.get(placement.label.toUpperCase()) ?? null,
        sheet,
      },
    ];
  });
}

function partItem(record: PartRecord, onRoll: Transform): Omit<Item, 'rank' | 'sheet'> {
  const part = recordedPart(record);
  const details: Detail[] = [
    ...part.inner,
    ...part.notches.map(({ from, to }) => ({ role: 'NOTCH', path: polyline([from, to], false) })),
    ...part.marks,
    ...part.edges.map(({ kind, name, path }) => ({
      role: `${kind} edge${name === null ? '' : ` ${name}`}`,
      path,
    })),
    ...(record.netContour === null ? [] : [{ role: 'net outline', path: part.net }]),
  ].map(({ role, path }) => ({ role, path: transformPath(onRoll, path) }));
  return {
    label: record.label,
    what: 'part',
    side: record.side,
    outline: transformPath(onRoll, part.cut),
    details,
    words: flatWords(record, noWords),
  };
}

/**
 * The place of each outline in the order of cutting, from the comments in the program of the lay. Empty
 * if there is no program.
 */
function cuttingRanks(file: string): Map<string, number> {
  if (!existsSync(file)) return new Map();
  const found = readFileSync(file, 'utf8').matchAll(/^(?:N\d+ )?\((\S+) outline\)/gim);
  return new Map([...found].map(([, label], i) => [label!.toUpperCase(), i]));
}
