import { basename, dirname, join, resolve } from 'node:path';
import type { CommandModule } from 'yargs';
import { cut } from '../cut.ts';
import { summaryLines } from '../papers/summary.ts';
import { findingLines, say, warn } from './print.ts';

interface Arguments {
  run: string;
  out: string | undefined;
  shared: string | undefined;
  cutter: string | undefined;
  seed: number | undefined;
  effort: number | undefined;
  force: boolean;
}

export const cutCommand: CommandModule<object, Arguments> = {
  command: 'cut <run>',
  describe: 'the main job: from the orders of a run file to proven cutter files',
  builder: (args) =>
    args
      .positional('run', {
        type: 'string',
        demandOption: true,
        describe: 'a run file, patterns/NAME.yaml',
      })
      .option('out', {
        type: 'string',
        describe: 'folder to write; ../out/NAME from the run file if left out',
      })
      .option('shared', {
        type: 'string',
        describe: 'folder of materials and cutters; ../shared from the run file if left out',
      })
      .option('cutter', {
        type: 'string',
        describe: 'a profile in shared/cutters, instead of the run file’s',
      })
      .option('seed', { type: 'number', describe: 'another seed searches another way' })
      .option('effort', {
        type: 'number',
        describe: 'rounds of search a material: same effort, same bytes',
      })
      .option('force', {
        type: 'boolean',
        default: false,
        describe: 'write over an earlier run of that name',
      })
      .example('$0 cut patterns/fenlark-week.yaml', 'writes out/fenlark-week'),
  handler: async ({ run, out, shared, cutter, seed, effort, force }) => {
    const runFile = resolve(run);
    const name = basename(runFile).replace(/\.ya?ml$/, '');
    const folder = resolve(out ?? join(dirname(runFile), '../out', name));
    const facts = await cut({
      runFile,
      out: folder,
      sharedFolder: resolve(shared ?? join(dirname(runFile), '../shared')),
      force,
      ...(cutter === undefined ? {} : { cutter }),
      ...(seed === undefined ? {} : { seed }),
      ...(effort === undefined ? {} : { effort }),
    });
    for (const line of findingLines(facts.findings)) warn(line);
    say([...summaryLines(facts), `files     ${folder}: open sheet.html first`].join('\n'));
  },
};
