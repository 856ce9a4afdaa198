import { resolve } from 'node:path';
import { z } from 'zod';
import { refuse } from '../base/findings.ts';
import { ending, nestInStreams } from '../lay/engine/engine.ts';
import { densityOf, engineInstance, placementsText, readInstance } from '../jobs/nest.ts';
import { checkFileTarget, publishFile } from '../publishing/publish-file.ts';
import type { Command } from './command.ts';
import { checkNumber } from './numbers.ts';
import { progressOf } from './progress.ts';
import { checkStreams, streamsOption, threadsOption } from './streams.ts';

interface NestArguments {
  instance: string;
  out: string;
  seconds: number | undefined;
  effort: number | undefined;
  streams: number | undefined;
  threads: number;
  seed: number;
  force: boolean;
}

export const nestCommand: Command<NestArguments> = {
  command: 'nest <instance>',
  describe: 'the nesting engine alone, on an instance as the literature publishes them',
  builder: (args) =>
    args
      .positional('instance', {
        type: 'string',
        demandOption: true,
        describe: 'JSON with stripWidth and pieces: id, demand, rotations, outline, holes',
      })
      .option('out', { type: 'string', demandOption: true, describe: 'placements.json to write' })
      .option('seconds', {
        type: 'number',
        requiresArg: true,
        describe: 'how long to search, 10 if left out; another machine finds another layout',
      })
      .option('effort', {
        type: 'number',
        requiresArg: true,
        describe: 'rounds of moves instead of seconds: same effort and seed, same bytes',
      })
      .conflicts('seconds', 'effort')
      .option('streams', streamsOption)
      .conflicts('seconds', 'streams')
      .option('threads', threadsOption)
      .option('seed', { type: 'number', default: 1, requiresArg: true })
      .option('force', { type: 'boolean', default: false, describe: 'write over the file' })
      .example(
        '$0 nest instance.json --seconds 60 --out placements.json',
        'Ctrl-C: the best so far',
      )
      .epilogue(`An instance, here of one kind that is wanted 12 times:\n\n${smallInstance}`),
  run: async ({ instance, out, seconds, effort, streams, threads, seed, force }, terminal) => {
    checkNumber('seconds', z.number().min(0).max(1e6), seconds);
    checkNumber('effort', z.number().int().min(0).max(1e9), effort);
    checkStreams({ streams, threads });
    checkNumber('seed', z.number().int().min(0).max(1e9), seed);
    const file = resolve(out);
    checkFileTarget(file, '.json', force);
    const published = readInstance(instance);
    const stop = new SharedArrayBuffer(1);
    terminal.onSignal(['SIGINT', 'SIGTERM'], () =>
      Atomics.store(new Uint8Array(stop), 0, ending.atOnce),
    );
    if (streams !== undefined && effort === undefined) {
      refuse('argument', '--streams counts only with --effort.', 'Say --effort, too.');
    }
    const limit =
      effort === undefined
        ? { seconds: seconds ?? 10 }
        : { rounds: effort, ...(streams === undefined ? {} : { streams }) };
    const words = (length: number): string => {
      const percent = (100 * densityOf(published, length)).toFixed(2);
      return `length ${Number(length.toPrecision(7))}, density ${percent} %`;
    };
    const progress = progressOf(terminal);
    const best = await nestInStreams(
      engineInstance(published),
      { seed, limit, threads, stop },
      {
        found: ({ length }) => progress({ of: instance, length, words: () => words(length) }),
      },
    );
    publishFile(file, placementsText(published, best));
    terminal.say(`${file}: ${words(best.length)}`);
    return 0;
  },
};

/** For the help. Corners are x, y in the unit of the width, in either direction; turns are degrees counter-clockwise. */
const smallInstance = `{ "stripWidth": 700,
  "pieces": [
    { "id": "gusset", "demand": 12, "rotations": [0, 180],
      "outline": [[0, 0], [300, 0], [300, 200]] } ] }`;
