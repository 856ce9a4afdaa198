import { existsSync } from 'node:fs';
import { join } from 'node:path';
import type { Finding } from '../base/findings.ts';
import { hasErrors } from '../base/findings.ts';
import { firstAndMore } from '../base/wording.ts';
import { changedSince, runFileOf } from '../jobs/changed-since.ts';
import { proveFolder } from '../jobs/prove.ts';
import type { RunRecord } from '../program/record/run-record.ts';
import { withdrawPrograms } from '../publishing/withdraw.ts';
import type { Command } from './command.ts';
import { findingLines } from './print.ts';

export const proveCommand: Command<{ folder: string }> = {
  command: 'prove <folder>',
  describe: 'prove a run folder again: a folder that fails has its programs withdrawn',
  builder: (args) =>
    args
      .positional('folder', { type: 'string', demandOption: true, describe: 'what "cut" wrote' })
      .example('$0 prove out/fenlark-week', 'exit code 0: every file may be cut'),
  run: ({ folder }, { say, warn }) => {
    const { run, findings, mayBeCut } = proveFolder(folder);
    for (const line of findingLines([...changedFindings(folder, run), ...findings])) warn(line);
    if (!mayBeCut) {
      const programs = withdrawPrograms(folder);
      warn(
        `${folder}: not proven. Programs withdrawn: ${programs.join(', ') || 'none were left'}.`,
      );
      return 1;
    }
    if (hasErrors(findings)) {
      warn(`${folder}: the programs are proven, and the papers are not as they were written.`);
      return 1;
    }
    say(
      `${folder}: proven. Every part is there once, the right way round, and the programs cut it and nothing else. All files of the list are there, unchanged; papers are held by the list alone, and not read back.`,
    );
    return 0;
  },
};

/**
 * A warning where the run has changed since its files were made, if its run file lies in patterns/ beside the
 * folder of run folders. A folder that was copied elsewhere is proven all the same.
 */
function changedFindings(folder: string, run: RunRecord): Finding[] {
  const patterns = join(folder, '../../patterns');
  const runFile = join(patterns, runFileOf(run) ?? '');
  if (!existsSync(runFile)) return [];
  const changes = changedSince(run, (file) => join(patterns, file));
  if (changes.length === 0) return [];
  return [
    {
      severity: 'warning',
      rule: 'older-than-run',
      message: `these files were made before ${firstAndMore(changes)}.`,
      todo: 'Do not cut them: make them anew with "cut --force".',
      where: { file: runFile },
    },
  ];
}
