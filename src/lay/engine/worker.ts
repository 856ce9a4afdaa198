/** A stream of the search in a thread of its own: tells of every shorter layout, and of the last one. */
import { parentPort, workerData } from 'node:worker_threads';
import { runStream } from './streams.ts';
import type { StreamJob } from './streams.ts';

const result = runStream(workerData as StreamJob, (nest) =>
  parentPort!.postMessage({ done: false, nest }),
);
parentPort!.postMessage({ done: true, nest: result });
