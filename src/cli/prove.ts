import { hasErrors, Refusal, refuse } from '../base/findings.ts';
import { prove } from '../program/proof/prove.ts';
import { withdrawPrograms } from '../publishing/publish.ts';
import type { Command } from './command.ts';
import { findingLines } from './print.ts';

/** The names of the programs that are withdrawn now. Throws a Refusal if the disk does not allow it. */
function withdrawn(folder: string): string[] {
  try {
    return withdrawPrograms(folder);
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return refuse(
      'withdraw',
      `its programs must not be cut, and they cannot be renamed: ${error.findings[0]!.message}`,
      'Remove its .nc files by hand.',
      { file: folder },
    );
  }
}

export const proveCommand: Command<{ folder: string }> = {
  command: 'prove <folder>',
  describe: 'prove a run folder again: a folder that fails has its programs withdrawn',
  builder: (args) =>
    args
      .positional('folder', { type: 'string', demandOption: true, describe: 'what "cut" wrote' })
      .example('$0 prove out/fenlark-week', 'exit code 0: every file may be cut'),
  run: ({ folder }, { say, warn }) => {
    const findings = prove(folder);
    for (const line of findingLines(findings)) warn(line);
    if (hasErrors(findings)) {
      const programs = withdrawn(folder);
      warn(
        `${folder}: not proven. ${programs.length === 0 ? 'No programs were left in it.' : `Programs withdrawn: ${programs.join(', ')}.`}`,
      );
      return 1;
    }
    say(
      `${folder}: proven. Every part is there once, the right way round, and the programs cut it and nothing else.`,
    );
    return 0;
  },
};
