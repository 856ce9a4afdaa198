/** Streams of the search in a thread of their own: tells of every shorter layout, and of the best one after each stage. */
import { parentPort, workerData } from 'node:worker_threads';
import type { Layout } from './layout.ts';
import type { Message, StreamJob } from './streams.ts';
import { openStreams } from './streams.ts';

const tell = (message: Message): void => parentPort!.postMessage(message);
const run = openStreams(workerData as StreamJob, (nest) => tell({ nest }));
parentPort!.on('message', ({ stage, from }: { stage: number; from: Layout | null }) =>
  tell({ reached: run(stage, from) }),
);
