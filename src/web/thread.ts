/** Tasks in a thread of their own: takes them as they are asked for, says how they go and what they give. */
import { parentPort } from 'node:worker_threads';
import { Refusal } from '../base/findings.ts';
import type { Asked, Said } from './threads.ts';
import { doTask, loadTasks } from './threads.ts';

const stops = new Map<number, AbortController>();

const tell = (said: Said, transfer: ArrayBuffer[] = []): void =>
  parentPort!.postMessage(said, transfer);

async function work(id: number, task: string, args: unknown): Promise<void> {
  const stop = new AbortController();
  stops.set(id, stop);
  try {
    const { value, transfer } = await doTask(await loadTasks(), task, args, {
      progress: (message) => tell({ id, progress: message }),
      signal: stop.signal,
    });
    tell({ id, done: value }, transfer);
  } catch (error) {
    tell(failure(id, error));
  } finally {
    stops.delete(id);
  }
}

function failure(id: number, error: unknown): Said {
  if (error instanceof Refusal) return { id, refused: error.findings };
  if (!(error instanceof Error))
    return { id, failed: { message: String(error), stack: undefined } };
  return { id, failed: { message: error.message, stack: error.stack } };
}

parentPort!.on('message', (asked: Asked) => {
  if ('stop' in asked) stops.get(asked.id)?.abort();
  else void work(asked.id, asked.task, asked.args);
});
