import { availableParallelism } from 'node:os';
import { z } from 'zod';
import { mostStreams, usualStreams } from '../lay/engine/engine.ts';
import { checkNumber } from './numbers.ts';

/** How many searches go on side by side, and in how many threads. */
export const streamsOption = {
  type: 'number',
  requiresArg: true,
  describe: `searches side by side, each for the whole effort, in pairs that go on from the better: more find better and take longer; ${usualStreams} if left out`,
} as const;

export const threadsOption = {
  type: 'number',
  default: Math.min(mostStreams, availableParallelism()),
  defaultDescription: 'the cores of this machine',
  requiresArg: true,
  describe: 'threads to search in; no effect on what an effort finds',
} as const;

/** Throws a Refusal for numbers of streams or threads that cannot be. */
export function checkStreams({
  streams,
  threads,
}: {
  readonly streams: number | undefined;
  readonly threads: number;
}): void {
  checkNumber('streams', z.number().int().min(1).max(mostStreams), streams);
  checkNumber('threads', z.number().int().min(1).max(mostStreams), threads);
}
