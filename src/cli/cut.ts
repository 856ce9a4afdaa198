import { basename, dirname, join, resolve } from 'node:path';
import { z } from 'zod';
import { cut } from '../jobs/cut.ts';
import { readRunRecord } from '../program/record/record.ts';
import { summaryLines } from '../papers/facts/summary.ts';
import { runSchema } from '../run/run-file.ts';
import type { Command } from './command.ts';
import { checkNumber } from './numbers.ts';
import { findingLines } from './print.ts';
import { progressOf } from './progress.ts';
import { checkStreams, streamsOption, threadsOption } from './streams.ts';
import type { Terminal } from './terminal.ts';

interface CutArguments {
  run: string;
  out: string | undefined;
  shared: string | undefined;
  cutter: string | undefined;
  seed: number | undefined;
  effort: number | undefined;
  seconds: number | undefined;
  streams: number | undefined;
  threads: number;
  from: string | undefined;
  force: boolean;
  'go-on': boolean;
  'keep-best': boolean;
}

export const cutCommand: Command<CutArguments> = {
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
      .option('seed', {
        type: 'number',
        requiresArg: true,
        describe: 'another seed searches another way',
      })
      .option('effort', {
        type: 'number',
        requiresArg: true,
        describe: 'rounds of moves a material: same effort, same bytes',
      })
      .option('seconds', {
        type: 'number',
        requiresArg: true,
        describe:
          'seconds for all materials together instead, for people in a hurry: never the same bytes twice',
      })
      .conflicts('seconds', 'effort')
      .option('from', {
        type: 'string',
        describe: 'an earlier run’s folder: the search begins with its lays',
      })
      .option('go-on', {
        type: 'boolean',
        default: false,
        describe: 'search on from what is laid in the run file, instead of leaving it so',
      })
      .option('streams', streamsOption)
      .conflicts('seconds', 'streams')
      .option('threads', threadsOption)
      .option('keep-best', {
        type: 'boolean',
        default: false,
        describe: 'after Ctrl-C go on with the best lay so far instead of giving up',
      })
      .option('force', {
        type: 'boolean',
        default: false,
        describe: 'write over an earlier run of that name',
      })
      .example('$0 cut patterns/fenlark-week.yaml', 'writes out/fenlark-week'),
  run: async (
    {
      run,
      out,
      shared,
      cutter,
      seed,
      effort,
      seconds,
      streams,
      threads,
      from,
      force,
      'go-on': goOn,
      'keep-best': keepBest,
    },
    terminal,
  ) => {
    checkNumber('seed', runSchema.shape.seed, seed);
    checkNumber('effort', runSchema.shape.effort, effort);
    checkNumber('seconds', z.number().min(0).max(1e6), seconds);
    checkStreams({ streams, threads });
    const runFile = resolve(run);
    const name = basename(runFile).replace(/\.ya?ml$/, '');
    const folder = resolve(out ?? join(dirname(runFile), '../out', name));
    const signal = interruption(terminal);
    const progress = progressOf(terminal);
    const facts = await cut({
      runFile,
      out: folder,
      sharedFolder: resolve(shared ?? join(dirname(runFile), '../shared')),
      force,
      goOn,
      keepBest,
      threads,
      signal,
      // While parts are laid, what is found says more.
      told: ({ phase, doing }) => {
        if (phase !== 'reading' && phase !== 'laying') terminal.progress?.(doing);
      },
      progress: (laid, { length, density }) =>
        progress({
          of: laid,
          length,
          words: () =>
            `${laid}: best so far ${(length / 1000).toFixed(2)} m, ${(density * 100).toFixed(1)} %`,
        }),
      ...(from === undefined ? {} : { from: readRunRecord(join(resolve(from), 'run.json')) }),
      ...(cutter === undefined ? {} : { cutter }),
      ...(seed === undefined ? {} : { seed }),
      ...(effort === undefined ? {} : { limit: { rounds: effort } }),
      ...(seconds === undefined ? {} : { limit: { seconds } }),
      ...(streams === undefined ? {} : { streams }),
    });
    for (const line of findingLines(facts.findings)) terminal.warn(line);
    terminal.say([...summaryLines(facts), `files     ${folder}: open sheet.html first`].join('\n'));
    // With --keep-best everything is there that was asked for; otherwise a stop has been refused before.
    return 0;
  },
};

/** From now on Ctrl-C, or the system’s plea to end, asks the run to stop instead of ending the program. */
function interruption({ onSignal }: Terminal): AbortSignal {
  const stop = new AbortController();
  onSignal(['SIGINT', 'SIGTERM'], () => stop.abort());
  return stop.signal;
}
