import { hasErrors } from '../base/findings.ts';
import { proveFolder } from '../jobs/prove.ts';
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
    const { findings, mayBeCut } = proveFolder(folder);
    for (const line of findingLines(findings)) warn(line);
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
