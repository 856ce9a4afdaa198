/** Streams of the search in a thread of their own: tells of every shorter layout, of what is tried where somebody looks on, and of the best one after each stage. */
import { parentPort, workerData } from 'node:worker_threads';
import type { Layout } from './layout.ts';
import type { Message, StreamJob } from './streams.ts';
import { openStreams } from './streams.ts';

const tell = (message: Message): void => parentPort!.postMessage(message);
const job = workerData as StreamJob;
const run = openStreams(job, {
  found: (nest) => tell({ nest }),
  ...(job.watched === true ? { trying: (nest) => tell({ trying: nest }) } : {}),
});
parentPort!.on('message', ({ stage, from }: { stage: number; from: Layout | null }) =>
  tell({ reached: run(stage, from) }),
);
