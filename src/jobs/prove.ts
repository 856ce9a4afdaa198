import { basename, extname, join, resolve } from 'node:path';
import type { Finding } from '../base/findings.ts';
import { hasErrors, Refusal } from '../base/findings.ts';
import { shownNames } from '../base/wording.ts';
import { firstOfEach } from '../program/proof/faults.ts';
import { everyFault } from '../program/proof/prove.ts';
import type { RecordedRun } from '../program/record/record.ts';
import { readRecorded } from '../program/record/record.ts';
import type { RunRecord } from '../program/record/run-record.ts';
import type { FileList } from '../publishing/file-list.ts';
import { changesSince, listName, readList } from '../publishing/file-list.ts';
import { namesOfRun } from './run-names.ts';

/** What a run folder says of its run, and what the proof says of the folder. */
export interface FolderProof extends RecordedRun {
  readonly findings: readonly Finding[];
  /**
   * Whether its programs may be cut: nothing is wrong with the record, the list, or anything that a machine
   * may be given. Papers may still be wrong, and then there are errors too.
   */
  readonly mayBeCut: boolean;
  /** The names of all files that are as the run wrote them, and of the list of them. */
  readonly unchanged: readonly string[];
}

/**
 * Proves a run folder: holds every file in it against the list of files, and what the machine reads against
 * the record. Throws a Refusal if it is no run folder.
 */
export function proveFolder(folder: string): FolderProof {
  const proof = proveContents(folder);
  return { ...proof, findings: [...otherName(folder, proof.run), ...proof.findings] };
}

/** `known`: all faults of what the machine reads, where they are known already. */
function proveContents(folder: string, known?: readonly Finding[]): FolderProof {
  // A cause that shows in several files is named once: whether one of them holds, only all faults tell.
  const recorded = readRecorded(folder);
  const every = known ?? everyFault(folder, recorded);
  const found = firstOfEach(every);
  const { machine, papers, unchanged } = heldAgainstList(folder, namesOfRun(recorded.run), every);
  return {
    ...recorded,
    findings: [...machine, ...papers, ...found],
    mayBeCut: !hasErrors([...machine, ...found]),
    unchanged,
  };
}

/** A warning if a folder has another name than the run in it: two folders may have been exchanged. */
function otherName(folder: string, { run }: RunRecord): Finding[] {
  if (basename(resolve(folder)) === run) return [];
  return [
    {
      severity: 'warning',
      rule: 'other-name',
      message: `this folder holds the run "${run}", whatever it is called.`,
      todo: 'Look at the head of a program or at the sheet before you cut.',
      where: { file: folder },
    },
  ];
}

/**
 * What keeps a folder from being written; it has its own name only afterwards. `faults`: what machineFaults
 * found in it, where that was asked before the papers were there.
 */
export function folderFindings(folder: string, faults?: readonly Finding[]): readonly Finding[] {
  return proveContents(folder, faults).findings;
}

/** All faults of what the machine reads in a folder, in which papers and the list may still be missing. */
export function machineFaults(folder: string): readonly Finding[] {
  return everyFault(folder, readRecorded(folder));
}

/** What is wrong with a folder by its list, of what a machine may be given and of all else. */
interface HeldAgainstList extends Pick<FolderProof, 'unchanged'> {
  readonly machine: readonly Finding[];
  readonly papers: readonly Finding[];
}

/**
 * `names`: of all files that the run writes, so that a list made anew by other hands adds none and loses
 * none. `found`: what the proof of the contents says.
 */
function heldAgainstList(
  folder: string,
  names: ReadonlySet<string>,
  found: readonly Finding[],
): HeldAgainstList {
  let list: FileList;
  try {
    list = readList(folder);
  } catch (error) {
    if (error instanceof Refusal) {
      return { machine: error.findings, papers: [], unchanged: [] };
    }
    throw error;
  }
  const changes = changesSince(folder, list);
  const { changed } = changes;
  const strangers = [...changes.strangers, ...[...list.keys()].filter((name) => !names.has(name))];
  const isThere = (name: string): boolean => list.has(name) || strangers.includes(name);
  const missing = [...changes.missing, ...[...names].filter((name) => !isThere(name))];
  const paper = (name: string): boolean => !isForMachine(name);
  const gone = new Set([...changed, ...missing, ...changes.withdrawn]);
  return {
    unchanged: [listName, ...[...names].filter((name) => list.has(name) && !gone.has(name))],
    machine: [
      ...changed.filter(isForMachine).map((name) => changedProgram(folder, name, found)),
      ...missingFinding(folder, missing.filter(isForMachine)),
      ...strangerFinding(
        folder,
        strangers.filter((name) => !isHarmless(name)),
        'error',
      ),
    ],
    papers: [
      ...changedFinding(folder, changed.filter(paper)),
      ...missingFinding(folder, missing.filter(paper)),
      ...strangerFinding(folder, strangers.filter(isHarmless), 'warning'),
    ],
  };
}

/** Whether a machine may be given such a file, or a recut and this proof read it. */
function isForMachine(name: string): boolean {
  return ['.nc', '.dxf'].includes(extname(name).toLowerCase()) || name === 'run.json';
}

/** Endings of files for people, which no cutter takes for a program. */
const forPeople: ReadonlySet<string> = new Set(
  '.txt .md .pdf .html .csv .svg .png .jpg .jpeg .odt .doc .docx .xls .xlsx'.split(' '),
);

/** Whether no machine can take a stranger for something to cut: a file for people, or an empty folder. */
function isHarmless(name: string): boolean {
  return name.endsWith('/') || forPeople.has(extname(name).toLowerCase());
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
