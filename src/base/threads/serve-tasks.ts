import { parentPort } from 'node:worker_threads';
import type { Finding } from '../findings.ts';
import { Refusal } from '../findings.ts';
import type { Tasks } from './task.ts';
import { doTask } from './task.ts';

/** To a thread: a task that is to be done, or the number of one that is to be stopped. */
export type ToThread =
  | { readonly id: number; readonly task: string; readonly args: unknown }
  | { readonly id: number; readonly stop: true };

/** From a thread: how a task goes, what it gives, or why it gives nothing. */
export type FromThread =
  | { readonly id: number; readonly progress: unknown }
  | { readonly id: number; readonly done: unknown }
  | { readonly id: number; readonly refused: readonly Finding[] }
  | { readonly id: number; readonly failed: { message: string; stack: string | undefined } };

/**
 * All that the file of a thread has to call: takes tasks as they are asked for and says how they go and
 * what they give. `load` is called when the first task comes.
 */
export function serveTasks(load: () => Promise<Tasks>): void {
  const port = parentPort!;
  const stops = new Map<number, AbortController>();
  let loaded: Promise<Tasks> | null = null;
  const tell = (said: FromThread, transfer: ArrayBuffer[] = []): void =>
    port.postMessage(said, transfer);
  const work = async (id: number, task: string, args: unknown): Promise<void> => {
    const stop = new AbortController();
    stops.set(id, stop);
    try {
      const { value, transfer } = await doTask(await (loaded ??= load()), task, args, {
        progress: (message) => tell({ id, progress: message }),
        signal: stop.signal,
      });
      tell({ id, done: value }, transfer);
    } catch (error) {
      tell(failure(id, error));
    } finally {
      stops.delete(id);
    }
  };
  port.on('message', (asked: ToThread) => {
    if ('stop' in asked) stops.get(asked.id)?.abort();
    else void work(asked.id, asked.task, asked.args);
  });
}

function failure(id: number, error: unknown): FromThread {
  if (error instanceof Refusal) return { id, refused: error.findings };
  if (!(error instanceof Error))
    return { id, failed: { message: String(error), stack: undefined } };
  return { id, failed: { message: error.message, stack: error.stack } };
}
