import { extname, join } from 'node:path';
import type { Finding } from '../base/findings.ts';
import { hasErrors, Refusal } from '../base/findings.ts';
import { shownNames } from '../base/wording.ts';
import { firstOfEach } from '../program/proof/faults.ts';
import { everyFault } from '../program/proof/prove.ts';
import type { FolderChanges } from '../publishing/file-list.ts';
import { changesSince, readList } from '../publishing/file-list.ts';

/** What the proof says of a run folder. */
export interface FolderProof {
  readonly findings: readonly Finding[];
  /**
   * Whether its programs may be cut: nothing is wrong with the record, the list, or anything that a machine
   * may be given. Papers may still be wrong, and then there are errors too.
   */
  readonly mayBeCut: boolean;
}

/**
 * Proves a run folder: holds every file in it against the list of files, and what the machine reads against
 * the record. Throws a Refusal if it is no run folder.
 */
export function proveFolder(folder: string): FolderProof {
  // A cause that shows in several files is named once: whether one of them holds, only all faults tell.
  const every = everyFault(folder);
  const found = firstOfEach(every);
  const { machine, papers } = listFindings(folder, every);
  const findings = [...machine, ...papers, ...found];
  return { findings, mayBeCut: !hasErrors([...machine, ...found]) };
}

/** The findings alone: what keeps a folder from being written. */
export function folderFindings(folder: string): readonly Finding[] {
  return proveFolder(folder).findings;
}

/** What is wrong with a folder by its list, of what a machine may be given and of all else. */
interface ListFindings {
  readonly machine: readonly Finding[];
  readonly papers: readonly Finding[];
}

/** `found`: what the proof of the contents says. */
function listFindings(folder: string, found: readonly Finding[]): ListFindings {
  let changes: FolderChanges;
  try {
    changes = changesSince(folder, readList(folder));
  } catch (error) {
    if (error instanceof Refusal) return { machine: error.findings, papers: [] };
    throw error;
  }
  const { changed, missing, strangers } = changes;
  const paper = (name: string): boolean => !isForMachine(name);
  const strange = strangers.filter(isForMachine);
  return {
    machine: [
      ...changed.filter(isForMachine).map((name) => changedProgram(folder, name, found)),
      ...missingFinding(folder, missing.filter(isForMachine)),
      ...strangerFinding(folder, strange, 'error'),
    ],
    papers: [
      ...changedFinding(folder, changed.filter(paper)),
      ...missingFinding(folder, missing.filter(paper)),
      ...strangerFinding(folder, strangers.filter(paper), 'warning'),
    ],
  };
}

/** Whether a machine may be given such a file, or a recut and this proof read it. */
function isForMachine(name: string): boolean {
  return ['.nc', '.dxf'].includes(extname(name).toLowerCase()) || name === 'run.json';
}

const anew = 'Move the folder away and make it anew, or copy it anew from where it was made.';

/** A program, drawing or record that is no longer as it was written, and whether what it says still holds. */
function changedProgram(folder: string, name: string, found: readonly Finding[]): Finding {
  const file = join(folder, name);
  const isWrong = found.some(({ severity, where }) => severity === 'error' && where.file === file);
  const verdict = isWrong
    ? 'It does not agree with the lay either: see below.'
    : 'What it says still agrees with the lay.';
  return {
    severity: 'error',
    rule: 'changed-file',
    message: `this is no longer as it was written. ${verdict}`,
    todo: anew,
    where: { file },
  };
}

function changedFinding(folder: string, names: readonly string[]): Finding[] {
  if (names.length === 0) return [];
  const message = `no longer as ${names.length === 1 ? 'it was' : 'they were'} written: ${shownNames(names, Infinity)}.`;
  return [
    { severity: 'error', rule: 'changed-file', message, todo: anew, where: { file: folder } },
  ];
}

function missingFinding(folder: string, names: readonly string[]): Finding[] {
  if (names.length === 0) return [];
  const message = `missing from this folder: ${shownNames(names, Infinity)}.`;
  return [
    { severity: 'error', rule: 'missing-file', message, todo: anew, where: { file: folder } },
  ];
}

function strangerFinding(
  folder: string,
  names: readonly string[],
  severity: 'error' | 'warning',
): Finding[] {
  if (names.length === 0) return [];
  return [
    {
      severity,
      rule: 'not-listed',
      message: `the run did not write ${shownNames(names, Infinity)}.`,
      todo:
        severity === 'error'
          ? 'Move it out of this folder: nothing but what the run wrote may be cut from here.'
          : 'Keep it elsewhere: what is here counts as of this run, and "cut --force" does not write over it.',
      where: { file: folder },
    },
  ];
}
