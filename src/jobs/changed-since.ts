import { existsSync, readFileSync, statSync } from 'node:fs';
import { isDeepStrictEqual } from 'node:util';
import { Refusal } from '../base/findings.ts';
import { sha256 } from '../base/sha256.ts';
import type { Order } from '../handing/order.ts';
import type { Placement, Roll } from '../lay/lay.ts';
import { pointRecord, six } from '../program/record/figures.ts';
import { recordedLay } from '../program/record/lay-record.ts';
import type { LayRecord, OrderRecord, RunRecord } from '../program/record/run-record.ts';
import type { LoadedRoll, RunFile } from '../run/run-file.ts';
import { readRun, rollsOf } from '../run/run-file.ts';
import { placementOf } from './lay-materials.ts';

type Input = RunRecord['inputs'][number];

/**
 * What has changed of a run since its files were made, each in words that follow "before": "order 1052 was
 * changed". Empty: the files are those of the run as it stands, or of a recut, which reads no inputs. What a
 * run file says counts, not how: comments, the order of its keys, and a lay that is the one in the record
 * change nothing; nor does how long and from which seed is searched. A roll from which nothing was cut is not
 * in the record and counts for nothing. Other files count byte for byte. `locate` gives the path of an input;
 * null: it lies where nobody may look.
 */
export function changedSince(
  record: RunRecord,
  locate: (file: string) => string | null,
): readonly string[] {
  const runFile = runFileOf(record);
  const ofRun = record.inputs.filter(isOfRun);
  const others = record.inputs.filter((input) => !isOfRun(input) && !isAsRead(input, locate));
  const path = runFile === null ? null : locate(runFile);
  return [
    ...(runFile === null || ofRun.every((input) => isAsRead(input, locate))
      ? []
      : contentChanges(record, path)),
    ...new Set(others.map(({ file }) => `${inputWords(file)} was changed`)),
  ];
}

/** The run file that a record names among its inputs, by its name; null: a recut, which has none. */
export function runFileOf({ inputs }: RunRecord): string | null {
  return inputs.find(({ file }) => /^[^/]+\.ya?ml$/.test(file))?.file ?? null;
}

/** Whether an input is the run file, or the CSV of its orders: both lie in the folder of the run file. */
function isOfRun({ file }: Input): boolean {
  return !file.includes('/');
}

function isAsRead({ file, sha256: hash }: Input, locate: (file: string) => string | null): boolean {
  const path = locate(file);
  if (path === null || statSync(path, { throwIfNoEntry: false })?.isFile() !== true) return false;
  return sha256(readFileSync(path)) === hash;
}

function contentChanges(record: RunRecord, path: string | null): string[] {
  if (path === null || !existsSync(path)) return ['its run file was taken away'];
  let run: RunFile;
  try {
    run = readRun(path);
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return ['its run file was changed, and cannot be read'];
  }
  return [
    ...orderChanges(record.orders, run.orders),
    ...record.lays.flatMap((lay) => rollChanges(lay, record, run)),
    ...layChanges(record, run),
    ...(run.cutter === record.cutter.name ? [] : ['the cutter was changed']),
    ...(run.title === record.title ? [] : ['the title was changed']),
    ...(isOnLabelsOf(run, record) ? [] : ['the sheet of labels was changed']),
    ...(run.inches === record.inches ? [] : ['the units on papers were changed']),
  ];
}

function isOnLabelsOf({ labels }: RunFile, { inputs }: RunRecord): boolean {
  const named = inputs.flatMap(({ file }) => /\/labels\/([^/]+)\.yaml$/.exec(file)?.[1] ?? []);
  return named[0] === labels;
}

function orderChanges(before: readonly OrderRecord[], after: readonly Order[]): string[] {
  const known = new Map(before.map((one) => [one.order, orderOf(one)]));
  const changed = after.flatMap((one) => {
    const first = known.get(one.order);
    if (first === undefined) return [`order ${one.order} was added`];
    if (isDeepStrictEqual(first, one)) return [];
    // The hand is what a wrong file costs a set for.
    return [`order ${one.order} was changed${first.hand === one.hand ? '' : ` to ${one.hand}`}`];
  });
  const gone = before.filter(({ order }) => after.every((one) => one.order !== order));
  return [...changed, ...gone.map(({ order }) => `order ${order} was taken out`)];
}

/** The order as the run file had it. */
function orderOf(recorded: OrderRecord): object & Pick<OrderRecord, 'hand'> {
  const { title: _, setTitle: __, binding, ...order } = recorded;
  const said = binding === null ? {} : { binding };
  return { ...order, ...said };
}

/** Rolls of the cloth of a lay as the run file has them now; null: they can be of no such roll. */
function rollsNow(lay: LayRecord, { materials }: RunRecord, run: RunFile): LoadedRoll[] | null {
  const material = materials.find(({ name }) => name === lay.material);
  if (material === undefined) return null;
  const { colour } = lay;
  try {
    return rollsOf(run, colour === undefined ? { material } : { material, colour });
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return null;
  }
}

function rollChanges(lay: LayRecord, record: RunRecord, run: RunFile): string[] {
  const now = rollsNow(lay, record, run)?.find(({ name }) => (name ?? null) === lay.roll);
  const then = recordedLay(lay).roll;
  if (now !== undefined && isDeepStrictEqual(figuresOf(now), figuresOf(then))) return [];
  const name = lay.roll === null ? '' : ` ${lay.roll}`;
  return [`the roll ${clothWords(lay)}${name} was changed`];
}

/** All of a roll that shapes what is cut from it or said of it, as the record rounds it. */
function figuresOf({ width, selvedge, startMargin, length, ...others }: Roll): unknown[] {
  const { defects = [], outline = [], dyeLot = null } = others;
  return [
    ...[width, selvedge, startMargin].map(six),
    length === Infinity ? null : six(length),
    defects.map((defect) => defect.map(pointRecord)),
    outline.map(pointRecord),
    dyeLot,
  ];
}

/**
 * The cloths whose parts the run file has laid otherwise than they were cut. Where it has laid none, as before
 * the first search, the cut has searched, and only what is pinned must lie where it does.
 */
function layChanges(record: RunRecord, run: RunFile): string[] {
  const words = record.lays.filter((lay) => isLaidOtherwise(lay, record, run)).map(clothWords);
  return [...new Set(words)].map((cloth) => `the lay of ${cloth} was changed`);
}

function isLaidOtherwise(lay: LayRecord, record: RunRecord, run: RunFile): boolean {
  const rolls = rollsNow(lay, record, run) ?? [];
  const now = rolls.flatMap(({ pins, laid, name = null }) =>
    [...pins, ...laid].map((pin) => placeKey(name, placementOf(pin))),
  );
  const cut = new Set(
    record.lays
      .filter((one) => clothWords(one) === clothWords(lay))
      .flatMap(({ roll, placements }) => placements.map((place) => placeKey(roll, place))),
  );
  const isSearched = rolls.some(({ laid }) => laid.length > 0);
  return now.some((key) => !cut.has(key)) || (isSearched && now.length !== cut.size);
}

function placeKey(roll: string | null, { label, x, y, rotation }: Placement): string {
  return JSON.stringify([roll, label, six(x), six(y), six(rotation) % 360]);
}

function clothWords({ material, colour }: LayRecord): string {
  return colour === undefined ? material : `${material} ${colour}`;
}

const shared: Readonly<Record<string, string>> = {
  materials: 'the material',
  bindings: 'the tape',
  cutters: 'the cutter',
  labels: 'the sheet of labels',
  customers: 'what layers mean to the customer',
};

/** An input in a person's words: files of sets lie below the run file, those of the shop elsewhere. */
function inputWords(file: string): string {
  const [first, ...names] = file.split('/');
  if (first !== '..') {
    return names.join('/') === 'set.yaml' ? `the set ${first}` : `the drawing of the set ${first}`;
  }
  const name = names.at(-1)!;
  const words = shared[names.at(-2) ?? ''];
  return words === undefined ? name : `${words} ${name.replace(/\.yaml$/, '')}`;
}
