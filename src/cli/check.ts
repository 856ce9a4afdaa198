import { join, resolve } from 'node:path';
import type { CommandModule } from 'yargs';
import { checkSet } from '../check.ts';
import { findingLines, say, warn } from './print.ts';

interface Arguments {
  set: string;
  shared: string | undefined;
  json: boolean;
}

export const checkCommand: CommandModule<object, Arguments> = {
  command: 'check <set>',
  describe: 'hold the drawings and the set file of a set against every rule',
  builder: (args) =>
    args
      .positional('set', { type: 'string', demandOption: true, describe: 'folder of the set' })
      .option('shared', {
        type: 'string',
        describe: 'folder of materials and layers; ../../shared from the set if left out',
      })
      .option('json', { type: 'boolean', default: false, describe: 'findings as JSON' })
      .example('$0 check patterns/fenlark', 'exit code 1: there are findings'),
  handler: ({ set, shared, json }) => {
    const findings = checkSet(resolve(set), resolve(shared ?? join(set, '../../shared')));
    if (json) say(JSON.stringify(findings, null, 2));
    else for (const line of findingLines(findings)) warn(line);
    if (findings.some(({ severity }) => severity !== 'note')) process.exitCode = 1;
    else if (!json) say(`${set}: nothing found.`);
  },
};
