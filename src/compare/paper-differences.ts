import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { counted, cutShort, shownNames } from '../base/wording.ts';
import type { RecordedRun } from '../program/record/record.ts';
import { recordedName } from '../program/record/run-record.ts';
import type { RunRecord } from '../program/record/run-record.ts';
import type { DifferenceKind, Difference } from './difference.ts';
import { difference } from './difference.ts';

interface PaperFolder extends RecordedRun {
  readonly path: string;
  readonly names: ReadonlySet<string>;
}

/** Files that follow from all others, or that were compared by themselves. */
const notPapers = /^(?:run\.json|SHA256SUMS)$|\.(?:nc|dxf|nc\.withdrawn)$/;
/** What the proof writes behind the name of a program that it withdraws. */
const withdrawnEnding = '.withdrawn';

/**
 * Files that only one of two run folders has, and papers that differ. Where the records differ, papers differ because of
 * it, and that is told once. `lays`: those that both have; `changed`: those of them that differ.
 */
export function paperDifferences(
  before: PaperFolder,
  after: PaperFolder,
  lays: readonly string[],
  changed: readonly string[],
): { differences: Difference[]; notes: string[] } {
  const isSameRecord = before.fingerprint === after.fingerprint;
  const shared = [...before.names].filter((name) => after.names.has(name));
  const otherwise = shared.filter(
    (name) => !notPapers.test(name) && !isSameFile(name, before, after),
  );
  const only = (one: PaperFolder, other: PaperFolder): string[] =>
    [...one.names].filter(
      (name) => !other.names.has(name) && !isExplained(name, one.run, other.run, lays, changed),
    );
  const differences = [
    ...lonely(only(before, after), after.names, 'removed'),
    ...lonely(only(after, before), before.names, 'added'),
    ...(isSameRecord ? otherwise.map((name) => changedPaper(name, before, after)) : []),
  ];
  if (isSameRecord && differences.length === 0 && !isSameFile('SHA256SUMS', before, after)) {
    differences.push(paper('SHA256SUMS', 'differs, though no file that it lists does.'));
  }
  if (isSameRecord || otherwise.length === 0) return { differences, notes: [] };
  const notes = [
    `${counted(otherwise.length, 'paper')} ${otherwise.length === 1 ? 'differs' : 'differ'} because the runs do, and ${otherwise.length === 1 ? 'was' : 'were'} not compared line by line: ${shownNames(otherwise, 4)}.`,
  ];
  return { differences, notes };
}

/** Files that one folder alone has. What the proof withdrew is told as that. */
function lonely(
  names: readonly string[],
  others: ReadonlySet<string>,
  kind: Extract<DifferenceKind, 'removed' | 'added'>,
): Difference[] {
  return names.flatMap((name): Difference[] => {
    const isGone = kind === 'removed';
    if (name.endsWith(withdrawnEnding)) {
      // The program itself tells it, where the other folder has that.
      if (others.has(name.slice(0, -withdrawnEnding.length))) return [];
      const words = isGone
        ? 'a withdrawn program is gone.'
        : 'a program withdrawn by prove is new.';
      return [file('withdrawn', name, words)];
    }
    if (others.has(`${name}${withdrawnEnding}`)) {
      const words = isGone
        ? 'was withdrawn by prove: it must not be cut.'
        : 'is there again; it was withdrawn by prove.';
      return [file('withdrawn', name, words)];
    }
    const words = isGone ? 'the file is gone.' : 'the file is new.';
    return [/\.(?:nc|dxf)$/.test(name) ? file(kind, name, words) : paper(name, words)];
  });
}

function file(kind: DifferenceKind, name: string, words: string): Difference {
  return { ...difference(kind, { sheet: null, label: null }, words), file: name };
}

function paper(name: string, words: string): Difference {
  return file('paper', name, words);
}

function isSameFile(name: string, before: PaperFolder, after: PaperFolder): boolean {
  if (!before.names.has(name) || !after.names.has(name)) {
    return before.names.has(name) === after.names.has(name);
  }
  return readFileSync(join(before.path, name)).equals(readFileSync(join(after.path, name)));
}

/** A paper that differs though the run is the same. */
function changedPaper(name: string, before: PaperFolder, after: PaperFolder): Difference {
  const words = 'differs though the run is the same: changed by hand, or made by another version';
  const isText = /\.(?:html|svg|csv|txt|yaml|md)$/.test(name);
  const where = isText ? firstChange(join(before.path, name), join(after.path, name)) : '';
  return paper(name, `${words}${where}.`);
}

/** The first place where two texts differ, in words. */
function firstChange(before: string, after: string): string {
  const [old, young] = [before, after].map((path) => readFileSync(path, 'utf8').split('\n'));
  const at = old!.findIndex((line, i) => line !== young![i]);
  const [was, is] = [old![at] ?? '', young![at] ?? ''];
  let start = 0;
  while (start < was.length && was[start] === is[start]) start++;
  const near = Math.max(0, start - 12);
  const seen = (text: string): string => cutShort(text.slice(near).trim(), 40);
  return at < 0 ? '' : `; in line ${at + 1} "${seen(was)}" is now "${seen(is)}"`;
}

/** Whether a file is there because of an order or a lay that only one run has, or because a lay has more bites. */
function isExplained(
  name: string,
  own: RunRecord,
  other: RunRecord,
  lays: readonly string[],
  changed: readonly string[],
): boolean {
  const orders = own.orders.map(({ order }) => order);
  const others = other.orders.map(({ order }) => order);
  const ofOrder = /^(?:fitting|packing|sewing)-(.+?)\.\w+$/.exec(name)?.[1];
  if (ofOrder !== undefined && orders.includes(ofOrder) && !others.includes(ofOrder)) return true;
  const alone = own.lays.map(recordedName).filter((lay) => !lays.includes(lay));
  const isOf = (lay: string): boolean => name.startsWith(`${lay}.`);
  return alone.some(isOf) || (changed.some(isOf) && /\.bite-\d+\.nc$/.test(name));
}
