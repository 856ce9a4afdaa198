import { existsSync, readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { isDeepStrictEqual } from 'node:util';
import type { z } from 'zod';
import { Refusal, refuse } from '../../base/findings.ts';
import { wrongness } from '../../base/schema-words.ts';
import { sha256 } from '../../base/sha256.ts';
import { publishFile } from '../../publishing/publish-file.ts';
import type { RollEntry, RunContent } from '../../run/run-file.ts';
import {
  ordersFileOf,
  refuseSameNames,
  readRun,
  runFileSchema,
  runSchema,
} from '../../run/run-file.ts';
import type { OpenedRun } from '../api/run-file.ts';
import { keepRunStep, wordRunChange } from './run-history.ts';
import type { Workshop } from './workshop.ts';
import { liesIn, runFileIn } from './workshop.ts';
import { changedYaml } from '../../base/yaml-edit/edit.ts';
import type { Values } from '../../base/yaml-edit/editing.ts';
import { blockText } from '../../base/yaml-edit/write.ts';

/**
 * Reads patterns/<run>.yaml as it stands. Throws a Refusal where it cannot be read or is no run file.
 */
export function openRunFile(shop: Workshop, run: string): OpenedRun {
  const file = runFileIn(shop, run);
  const csv = ordersFileOf(file);
  if (csv !== null && existsSync(csv) && !liesIn(shop.patterns, csv)) {
    refuse('name', 'this leads out of its folder.', 'Put the file itself here, not a link.', {
      file: csv,
    });
  }
  const { name: _, file: __, placeOf: ___, ordersFile, ...content } = readRun(file);
  return {
    name: run,
    content,
    ordersFile: ordersFile === undefined ? null : basename(ordersFile),
    version: versionOf(file)!,
  };
}

/**
 * What tells one text of a run file, and of the CSV that it names, from any other; null where there is
 * no file.
 */
export function versionOf(file: string): string | null {
  if (!existsSync(file)) return null;
  const csv = ordersFileOf(file);
  const orders = csv === null || !existsSync(csv) ? [] : [readFileSync(csv)];
  return sha256(Buffer.concat([readFileSync(file), ...orders])).slice(0, 16);
}

/**
 * Writes patterns/<run>.yaml, with every line left as it stands that still says what it said. `version` is that of the
 * file which the content was made from, null for a new run. `step`: as what it can be taken back. Gives the new
 * version. Throws a Refusal where the file is another by now, where the content is no run, and where it has other
 * orders than the CSV in which they are kept; nothing is written then.
 */
export function saveRunFile(
  shop: Workshop,
  run: string,
  content: RunContent,
  version: string | null,
  step: RunStep = 'one',
): string {
  const file = runFileIn(shop, run);
  const now = refuseChanged(file, version);
  checkContent(content, file);
  if (now === null) {
    publishFile(file, newText(content));
    return versionOf(file)!;
  }
  const text = changedYaml(readFileSync(file, 'utf8'), keptIn(file, content), saysOf);
  const takeBack = stepKept(shop, run, content, text, step);
  try {
    publishFile(file, text);
  } catch (error) {
    takeBack();
    throw error;
  }
  return versionOf(file)!;
}

function stepKept(
  shop: Workshop,
  run: string,
  content: RunContent,
  text: string,
  step: RunStep,
): () => void {
  if (step === 'none') return () => {};
  if (step === 'search') return keepRunStep(shop, run, 'parts laid', text, true);
  return keepRunStep(shop, run, wordRunChange(openRunFile(shop, run).content, content), text);
}

/**
 * As what a change counts that can be taken back: as one step; as the end of a search, with all that it wrote
 * before; or as no step yet, because the search that writes it goes on.
 */
type RunStep = 'one' | 'search' | 'none';

/** Refuses a run file that is another than the one of a version, null for none; gives the version. */
export function refuseChanged(file: string, version: string | null): string | null {
  const now = versionOf(file);
  if (now === version) return now;
  const message =
    version === null ? 'a run of that name is there already.' : 'the run has been changed since.';
  const todo =
    version === null ? 'Give this one another name.' : 'Open it again: what it says now is shown.';
  return refuse('changed-since', message, todo, { file });
}

/** What the run file is to say. Refuses other orders than those of its CSV, which is left alone. */
function keptIn(file: string, content: RunContent): Values {
  const { orders, ordersFile } = readRun(file);
  if (ordersFile === undefined) return lean(content);
  const name = basename(ordersFile);
  if (!isDeepStrictEqual(orders, content.orders)) {
    const message = `the orders of this run are kept in ${name}, and only there can they be changed.`;
    refuse('orders-in-csv', message, `Change them in ${name}, then open the run again.`, { file });
  }
  return lean({ ...content, orders: name });
}

function checkContent(content: RunContent, file: string): void {
  const read = runSchema.safeParse(content);
  if (read.success) {
    refuseSameNames(content, () => ({ file }));
    checkStaysInside(content, file);
    return;
  }
  throw new Refusal(
    read.error.issues.map((issue) => ({
      severity: 'error',
      rule: 'schema',
      message: `"${issue.path.map(String).join(' ')}" ${wrongness(issue)}.`,
      todo: 'Give an allowed value.',
      where: { file },
    })),
  );
}

/** Refuses content that names a set, a cutter or labels in a way that leads to files elsewhere. */
function checkStaysInside({ orders, cutter, labels }: RunContent, file: string): void {
  const names = [
    ...orders.map(({ set }) => set),
    cutter,
    ...(labels === undefined ? [] : [labels]),
  ];
  const wrong = names.find((name) => /[/\\\0]|^\.+$/.test(name));
  if (wrong === undefined) return;
  refuse('name', `"${wrong}" is no name.`, 'Name a set, cutter or sheet of labels of the shop.', {
    file,
  });
}

function newText(content: RunContent): string {
  return blockText(lean(content), 'A run prepared on the page.');
}

function saysOf(plain: unknown): Values | null {
  const read = runFileSchema.safeParse(plain);
  return read.success ? lean(read.data) : null;
}

/** What a run file says, without values that are no other than their defaults. */
function lean(content: z.infer<typeof runFileSchema>): Values {
  const { title, cutter, orders, rolls, ...others } = content;
  const defaults = new Map<string, unknown>(
    Object.entries(runFileSchema.parse({ title, cutter, orders })),
  );
  const said = Object.entries(others).filter(
    ([key, value]) => value !== undefined && value !== defaults.get(key),
  );
  return {
    title,
    cutter,
    ...Object.fromEntries(said),
    orders,
    ...(Object.keys(rolls).length === 0 ? {} : { rolls: leanRolls(rolls) }),
  };
}

/** Rolls by material, each without what is not said of it. */
export function leanRolls(rolls: RunContent['rolls']): Values {
  return Object.fromEntries(
    Object.entries(rolls).map(([material, entries]) => [
      material,
      Array.isArray(entries) ? entries.map(leanRoll) : leanRoll(entries),
    ]),
  );
}

/** A roll without what is not said of it. */
function leanRoll(roll: RollEntry): Values {
  const said = Object.entries(roll).filter(
    ([, value]) => value !== undefined && !(Array.isArray(value) && value.length === 0),
  );
  return Object.fromEntries(said);
}
