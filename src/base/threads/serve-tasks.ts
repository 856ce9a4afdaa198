import { getHeapStatistics } from 'node:v8';
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
  | (Ended & { readonly done: unknown })
  | (Ended & { readonly refused: readonly Finding[] })
  | (Ended & { readonly failed: { message: string; stack: string | undefined } });

/** Said with the end of a task. */
interface Ended {
  readonly id: number;
  /** How much memory the thread has then, bytes. */
  readonly memory: number;
}

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
      tell({ ...ended(id), done: value }, transfer);
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
  if (error instanceof Refusal) return { ...ended(id), refused: error.findings };
  if (!(error instanceof Error))
    return { ...ended(id), failed: { message: String(error), stack: undefined } };
  return { ...ended(id), failed: { message: error.message, stack: error.stack } };
}

function ended(id: number): Ended {
  const { total_heap_size: heap, external_memory: external } = getHeapStatistics();
  return { id, memory: heap + external };
}
