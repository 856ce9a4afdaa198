import { join, resolve } from 'node:path';
import { checkSet } from '../jobs/check.ts';
import { hasErrors } from '../base/findings.ts';
import { checkPicture } from '../papers/pictures/check/check-picture.ts';
import { listFindings, totalWords } from '../papers/pictures/check/finding-list.ts';
import { checkFileTarget, publishFile } from '../publishing/publish-file.ts';
import type { Command } from './command.ts';
import { groupLines } from './print.ts';

interface CheckArguments {
  set: string;
  shared: string | undefined;
  json: boolean;
  svg: string | undefined;
  force: boolean;
}

export const checkCommand: Command<CheckArguments> = {
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
      .option('svg', {
        type: 'string',
        requiresArg: true,
        describe: 'also draw the pieces, with each finding at its place, into this file',
      })
      .option('force', { type: 'boolean', default: false, describe: 'write over that file' })
      .example('$0 check patterns/fenlark', 'all that is wrong; exit code 1 where there are errors')
      .example('$0 check patterns/fenlark --svg out/fenlark-check.svg', 'where they are'),
  run: ({ set, shared, json, svg, force }, { say, warn }) => {
    if (svg !== undefined) checkFileTarget(svg, '.svg', force);
    const { patterns, findings } = checkSet(
      resolve(set),
      resolve(shared ?? join(set, '../../shared')),
    );
    if (svg !== undefined) publishFile(svg, checkPicture(patterns, findings));
    if (json) say(JSON.stringify(findings, null, 2));
    else if (findings.length === 0) say(`${set}: nothing found.`);
    else {
      const groups = listFindings(patterns, findings);
      for (const line of groupLines(groups)) warn(line);
      warn(`${set}: ${totalWords(groups, Object.keys(patterns.content.pieces).length)}.`);
    }
    return hasErrors(findings) ? 1 : 0;
  },
};
