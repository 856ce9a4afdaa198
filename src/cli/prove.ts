import type { CommandModule } from 'yargs';
import { hasErrors } from '../findings.ts';
import { prove } from '../program/prove.ts';
import { findingLines, say, warn } from './print.ts';

export const proveCommand: CommandModule<object, { folder: string }> = {
  command: 'prove <folder>',
  describe: 'read the DXF and programs of a run folder back and prove them against its lay',
  builder: (args) =>
    args
      .positional('folder', { type: 'string', demandOption: true, describe: 'what "cut" wrote' })
      .example('$0 prove out/fenlark-week', 'exit code 0: every file may be cut'),
  handler: ({ folder }) => {
    const findings = prove(folder);
    for (const line of findingLines(findings)) warn(line);
    if (hasErrors(findings)) process.exitCode = 1;
    else
      say(
        `${folder}: proven. Every part is there once, the right way round, and the programs cut it and nothing else.`,
      );
  },
};
