import { createHash } from 'node:crypto';
import { existsSync, readFileSync } from 'node:fs';
import { isDeepStrictEqual } from 'node:util';
import type { Node } from 'yaml';
import { Document, isMap, isSeq, parseDocument, visit } from 'yaml';
import { Refusal, refuse } from '../../base/findings.ts';
import { publishFile } from '../../publishing/publish-file.ts';
import type { RunSheet } from '../../run/run-file.ts';
import { checkNames, readRun, runSchema } from '../../run/run-file.ts';
import type { RunFile } from '../api/run-file.ts';
import type { Workshop } from './workshop.ts';
import { runFileIn } from './workshop.ts';

/** Reads patterns/<run>.yaml as it stands. Throws a Refusal. */
export function openRunFile(shop: Workshop, run: string): RunFile {
  const file = runFileIn(shop, run);
  const { name: _, file: __, placeOf: ___, ...sheet } = readRun(file);
  return { name: run, sheet, version: versionOf(file)! };
}

/** Tells one state of a file from another; null where there is no file. */
export function versionOf(file: string): string | null {
  if (!existsSync(file)) return null;
  return createHash('sha256').update(readFileSync(file)).digest('hex').slice(0, 16);
}

/**
 * Writes patterns/<run>.yaml, what did not change left as it was, comments too. `version` is that of the
 * file which the sheet was made from, null for a new run. Gives the new version. Throws a Refusal where
 * the file is another by now, and where the sheet is no run; nothing is written then.
 */
export function saveRunFile(
  shop: Workshop,
  run: string,
  sheet: RunSheet,
  version: string | null,
): string {
  const file = runFileIn(shop, run);
  const now = versionOf(file);
  if (now !== version) {
    const message =
      version === null ? 'a run of that name is there already.' : 'the run has been changed since.';
    const todo =
      version === null
        ? 'Give this one another name.'
        : 'Open it again: what it says now is shown.';
    refuse('changed-since', message, todo, { file });
  }
  checkSheet(sheet, file);
  const text = now === null ? newText(sheet) : changedText(readFileSync(file, 'utf8'), sheet);
  publishFile(file, text);
  return versionOf(file)!;
}

function checkSheet(sheet: RunSheet, file: string): void {
  const read = runSchema.safeParse(sheet);
  if (read.success) {
    checkNames(sheet, () => ({ file }));
    checkStaysInside(sheet, file);
    return;
  }
  throw new Refusal(
    read.error.issues.map(({ path, message }) => ({
      severity: 'error',
      rule: 'schema',
      message: `"${path.map(String).join(' ')}" does not fit: ${message}.`,
      todo: 'Give an allowed value.',
      where: { file },
    })),
  );
}

/** No name in a sheet that was sent leads to files elsewhere. */
function checkStaysInside({ orders, cutter, labels }: RunSheet, file: string): void {
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

function newText(sheet: RunSheet): string {
  const document = new Document(lean(sheet));
  document.commentBefore = ' A run prepared on the page.';
  return onLines(document).toString({ lineWidth: 0 });
}

/** The text with the values that changed; unchanged keys keep their comments and their look. */
function changedText(text: string, sheet: RunSheet): string {
  const document = parseDocument(text);
  const before = lean(runSchema.parse(document.toJS()));
  const after = lean(sheet);
  for (const key of Object.keys(before)) if (!(key in after)) document.delete(key);
  for (const [key, value] of Object.entries(after)) {
    if (!isDeepStrictEqual(value, (before as Record<string, unknown>)[key])) {
      document.set(key, onLines(document.createNode(value)));
    }
  }
  return document.toString({ lineWidth: 0 });
}

/** Without what says no more than its default. */
function lean(sheet: RunSheet): Partial<RunSheet> {
  const defaults = runSchema.parse({ title: '-', cutter: '-', orders: sheet.orders });
  const entries = Object.entries(sheet).filter(
    ([key, value]) =>
      value !== undefined &&
      (key === 'orders' ||
        !isDeepStrictEqual(value, (defaults as unknown as Record<string, unknown>)[key])),
  );
  const kept = Object.fromEntries(entries) as Partial<RunSheet>;
  if (kept.rolls === undefined) return kept;
  const rolls = Object.entries(kept.rolls).map(([material, sheets]) => [
    material,
    Array.isArray(sheets) ? sheets.map(leanRoll) : leanRoll(sheets),
  ]);
  return { ...kept, rolls: Object.fromEntries(rolls) as RunSheet['rolls'] };
}

/** A roll without what is not said. */
export function leanRoll<T extends object>(roll: T): T {
  const kept = Object.entries(roll).filter(
    ([, value]) => value !== undefined && !(Array.isArray(value) && value.length === 0),
  );
  return Object.fromEntries(kept) as T;
}

/** Orders, pins and corners each on one line. */
function onLines<T extends Node | Document>(written: T): T {
  visit(written, {
    Collection(_, node) {
      const inner: unknown[] = isMap(node) ? node.items.map(({ value }) => value) : node.items;
      const isLeaf = inner.every((one) => !isMap(one) && !(isSeq(one) && one.items.some(isNested)));
      if (isLeaf && isListed(node)) node.flow = true;
    },
  });
  return written;
}

/** A coordinate pair is short enough to stay inside; longer lists are not. */
function isNested(one: unknown): boolean {
  return isMap(one) || isSeq(one);
}

function isListed(node: Node): boolean {
  if (isSeq(node)) return true;
  return isMap(node) && (node.has('part') || node.has('order'));
}
