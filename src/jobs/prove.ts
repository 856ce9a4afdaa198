import { extname, join } from 'node:path';
import type { Finding } from '../base/findings.ts';
import { Refusal } from '../base/findings.ts';
import { shownNames } from '../base/wording.ts';
import { firstOfEach } from '../program/proof/faults.ts';
import { everyFault } from '../program/proof/prove.ts';
import type { FolderChanges } from '../publishing/file-list.ts';
import { changesSince, readList } from '../publishing/file-list.ts';

/**
 * Proves a run folder: holds every file in it against the list of files, and what the machine reads against
 * the record. No errors: all is as it was written, and the programs may be cut. Throws a Refusal if it is
 * no run folder.
 */
export function proveFolder(folder: string): Finding[] {
  // A cause that shows in several files is named once: whether one of them holds, only all faults tell.
  const every = everyFault(folder);
  const found = firstOfEach(every);
  try {
    const changes = changesSince(folder, readList(folder));
    return [...listFindings(folder, changes, every), ...found];
  } catch (error) {
    if (error instanceof Refusal) return [...error.findings, ...found];
    throw error;
  }
}

/** The endings of files that a machine may be given, or that look like ours. */
const oursByEnding: ReadonlySet<string> = new Set([
  '.nc',
  '.dxf',
  '.html',
  '.pdf',
  '.svg',
  '.csv',
  '.json',
]);

/** What is wrong with a folder by its list. `found`: what the proof of the contents says. */
function listFindings(
  folder: string,
  { changed, missing, strangers }: FolderChanges,
  found: readonly Finding[],
): Finding[] {
  const confusing = strangers.filter((name) => oursByEnding.has(extname(name).toLowerCase()));
  const others = strangers.filter((name) => !confusing.includes(name));
  const where = { file: folder };
  return [
    ...changed.map((name) => changedFinding(folder, name, found)),
    ...(missing.length === 0
      ? []
      : [
          {
            severity: 'error',
            rule: 'missing-file',
            message: `${shownNames(missing)} ${missing.length === 1 ? 'is' : 'are'} missing from this folder.`,
            todo: 'Copy the folder anew from where it was made, or make it anew.',
            where,
          } as const,
        ]),
    ...(confusing.length === 0
      ? []
      : [
          {
            severity: 'error',
            rule: 'not-listed',
            message: `the run did not write ${shownNames(confusing)}.`,
            todo: 'Move what is not of this run out of its folder: nothing but what the run wrote may be cut or handed on from here.',
            where,
          } as const,
        ]),
    ...(others.length === 0
      ? []
      : [
          {
            severity: 'warning',
            rule: 'not-listed',
            message: `the run did not write ${shownNames(others)}.`,
            todo: 'Move it out of the folder: "cut --force" does not write over it.',
            where,
          } as const,
        ]),
  ];
}

/** The finding on a file that is no longer as it was written; for the machine's files, whether they still hold. */
function changedFinding(folder: string, name: string, found: readonly Finding[]): Finding {
  const file = join(folder, name);
  const isForMachine = ['.nc', '.dxf'].includes(extname(name));
  const isWrong = found.some(({ severity, where }) => severity === 'error' && where.file === file);
  const verdict = isWrong
    ? ' It does not agree with the lay either: see below.'
    : ' What it says still agrees with the lay.';
  return {
    severity: 'error',
    rule: 'changed-file',
    message: `this is no longer as it was written.${isForMachine ? verdict : ''}`,
    todo: 'Move the folder away and make it anew, or copy it anew from where it was made.',
    where: { file },
  };
}
