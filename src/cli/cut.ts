import { basename, dirname, join, resolve } from 'node:path';
import type { CommandModule } from 'yargs';
import { z } from 'zod';
import { cut } from '../jobs/cut.ts';
import type { LayOptions } from '../jobs/lay-materials.ts';
import { readRunRecord } from '../program/record/record.ts';
import { summaryLines } from '../papers/facts/summary.ts';
import { runSchema } from '../run/run-file.ts';
import { checkNumber } from './numbers.ts';
import { findingLines, say, warn } from './print.ts';

interface Arguments {
  run: string;
  out: string | undefined;
  shared: string | undefined;
  cutter: string | undefined;
  seed: number | undefined;
  effort: number | undefined;
  seconds: number | undefined;
  threads: number;
  from: string | undefined;
  force: boolean;
  'go-on': boolean;
  'keep-best': boolean;
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
        describe: 'seconds a material instead, for people in a hurry: never the same bytes twice',
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
      .option('threads', {
        type: 'number',
        default: 2,
        requiresArg: true,
        describe: 'threads to search in; no effect on what an effort finds',
      })
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
  handler: async ({
    run,
    out,
    shared,
    cutter,
    seed,
    effort,
    seconds,
    threads,
    from,
    force,
    'go-on': goOn,
    'keep-best': keepBest,
  }) => {
    checkNumber('seed', runSchema.shape.seed, seed);
    checkNumber('effort', runSchema.shape.effort, effort);
    checkNumber('seconds', z.number().min(0).max(1e6), seconds);
    checkNumber('threads', z.number().int().min(1).max(64), threads);
    const runFile = resolve(run);
    const name = basename(runFile).replace(/\.ya?ml$/, '');
    const folder = resolve(out ?? join(dirname(runFile), '../out', name));
    const facts = await cut({
      runFile,
      out: folder,
      sharedFolder: resolve(shared ?? join(dirname(runFile), '../shared')),
      force,
      goOn,
      keepBest,
      threads,
      signal: heedInterrupt(),
      progress: progressLine(),
      ...(from === undefined ? {} : { from: readRunRecord(join(resolve(from), 'run.json')) }),
      ...(cutter === undefined ? {} : { cutter }),
      ...(seed === undefined ? {} : { seed }),
      ...(effort === undefined ? {} : { limit: { rounds: effort } }),
      ...(seconds === undefined ? {} : { limit: { seconds } }),
    });
    for (const line of findingLines(facts.findings)) warn(line);
    say([...summaryLines(facts), `files     ${folder}: open sheet.html first`].join('\n'));
  },
};

/** From now on Ctrl-C asks the run to stop instead of ending the program. */
function heedInterrupt(): AbortSignal {
  const stop = new AbortController();
  process.on('SIGINT', () => {
    process.exitCode = interrupted;
    stop.abort();
  });
  return stop.signal;
}

/** The exit code that shells use for a program ended by Ctrl-C. */
const interrupted = 130;

/**
 * Shows the best lay of each material so far, in one line of the terminal that is written over. Writes
 * nothing if stderr is not a terminal.
 */
function progressLine(): NonNullable<LayOptions['progress']> {
  const start = performance.now();
  let current = '';
  let shortest = Infinity;
  return (material, { length, density }) => {
    if (!process.stderr.isTTY) return;
    if (material === current && length >= shortest) return;
    current = material;
    shortest = length;
    const elapsed = ((performance.now() - start) / 1000).toFixed(1);
    const words = `${elapsed} s, ${material}: best so far ${(length / 1000).toFixed(2)} m, ${(density * 100).toFixed(1)} %`;
    process.stderr.write(`\r${words.padEnd(70)}\r`);
  };
}
