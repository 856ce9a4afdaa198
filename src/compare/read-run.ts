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
import type { Comparable, Detail, Item, ComparedLay } from './comparable.ts';
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
  'cutter',
  'orders',
  'materials',
  'next',
  'shape',
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
    words: recordWords(run),
    texts: [],
    sources: sourcesOf(run),
    orders: [...new Set(run.orders.map(({ order }) => order))],
    lays: Object.fromEntries(
      run.lays.map((lay): [string, ComparedLay] => [
        recordedName(lay),
        { length: lay.length, density: lay.density, bites: lay.bites.length },
      ]),
    ),
  };
}

/**
 * The files from which a run was made, as far as the record does not hold all that they say: what the run file says of
 * orders, and what is said of machine and materials, is compared by itself.
 */
function sourcesOf({ inputs }: RunRecord): Record<string, string> {
  const others = inputs
    .slice(1)
    .filter(({ file }) => !/(?:^|\/)(?:cutters|materials)\//.test(file));
  return Object.fromEntries(others.map(({ file, sha256 }) => [file, sha256]));
}

/** What a record says, as facts. Orders, materials and rolls go by their names, never by their place in a list. */
function recordWords(run: RunRecord): Record<string, string> {
  const { lays, orders, materials, cutter } = run;
  return {
    ...flatWords(run, noWords),
    ...flatWords(run.labelStock.label, new Set(), 'labelStock.label'),
    ...flatWords(cutter, new Set(), 'cutter'),
    ...named(orders, ({ order }) => `order ${order}`, new Set(['order'])),
    ...named(materials, ({ name }) => `material ${name}`, new Set(['name'])),
    ...named(lays, (lay) => `roll ${recordedName(lay)}`, noWords),
  };
}

function named<T extends object>(
  records: readonly T[],
  nameOf: (record: T) => string,
  left: ReadonlySet<string>,
): Record<string, string> {
  const found: Record<string, string> = {};
  const counts = new Map<string, number>();
  for (const record of records) {
    const plain = nameOf(record);
    const count = (counts.get(plain) ?? 0) + 1;
    counts.set(plain, count);
    // An order may ask for sets of several kinds, one after the other.
    const name = count === 1 ? plain : `${plain}/${count}`;
    found[name] = '';
    Object.assign(found, flatWords(record, left, name));
  }
  return found;
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
    words: { ...flatWords(record, noWords), ...benchWords(record) },
  };
}

/** What is done with a part, and what shapes it, each as one fact: a step more is no new path of keys. */
function benchWords({ next, shape }: PartRecord): Record<string, string> {
  const listed = (steps: readonly (readonly [string, string])[]): string =>
    steps.map(([verb, rest]) => `${verb} ${rest}`.trim()).join('; ');
  return {
    ...(next.length === 0 ? {} : { next: listed(next) }),
    ...(shape === undefined ? {} : { shape: listed(shape) }),
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
