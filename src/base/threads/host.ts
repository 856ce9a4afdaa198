import { Worker } from 'node:worker_threads';
import { Refusal } from '../findings.ts';
import type { FromThread, ToThread } from './serve-tasks.ts';
import type { TaskArgs, TaskMessage, TaskResult, Tasks } from './task.ts';
import { doTask } from './task.ts';

/** Where tasks come from. */
export interface TaskSource<T extends Tasks> {
  /** The file that a thread loads; null where all is done in this thread. */
  readonly entry: URL | null;
  /** Gives the tasks where all is done in this thread. */
  readonly load: () => Promise<T>;
}

export interface RunOptions<Message = unknown> {
  readonly progress?: (message: Message) => void;
  readonly signal?: AbortSignal;
  /**
   * So many ms after the signal a task that is not done yet is ended with its thread. Left out: it may take
   * its time, as a search does that saves what it has.
   */
  readonly grace?: number;
}

/** Runs one task by its name. */
export type RunTask<T extends Tasks> = <N extends keyof T & string>(
  task: N,
  args: TaskArgs<T[N]>,
  options?: RunOptions<TaskMessage<T[N]>>,
) => Promise<TaskResult<T[N]>>;

/**
 * A place where one task at a time is done: a thread, or this one. What its tasks keep between two calls
 * is there again for the next.
 */
export interface TaskHost<T extends Tasks> {
  /**
   * Throws the Refusal that the task throws, or one where the host is closed meanwhile, and an Error with
   * its stack where the task fails.
   */
  readonly run: RunTask<T>;
  /** Whether it takes another task: not after its thread has crashed or was closed. */
  readonly isAlive: () => boolean;
  /** Ends whatever is under way. */
  readonly close: () => Promise<unknown>;
}

/** As above, of tasks whose names and types nobody knows any more. */
interface LooseHost extends Omit<TaskHost<Tasks>, 'run'> {
  readonly run: (task: string, args: unknown, options?: RunOptions) => Promise<unknown>;
}

/**
 * The file of a thread that stands beside a module (its `import.meta.url`). Sources that are run as they
 * are, without having been built, have no file that a thread could load: null.
 */
export function threadFile(name: string, module: string): URL | null {
  return module.endsWith('.js') ? new URL(name, module) : null;
}

/** Opens a host; a thread is started at once. */
export function openHost<T extends Tasks>({ entry, load }: TaskSource<T>): TaskHost<T> {
  // The one place where names become types: what a task of the table takes and gives, its host does.
  return (entry === null ? inProcess(load) : inThread(entry)) as unknown as TaskHost<T>;
}

/** A task that is under way, and whoever waits for it. */
interface UnderWay {
  readonly id: number;
  readonly options: RunOptions;
  readonly resolve: (value: unknown) => void;
  readonly reject: (error: Error) => void;
}

function inThread(entry: URL): LooseHost {
  const worker = new Worker(entry);
  let over: Error | null = null;
  let count = 0;
  let current: UnderWay | null = null;
  const tell = (asked: ToThread): void => worker.postMessage(asked);
  const end = (why: Error): void => {
    over ??= why;
    current?.reject(over);
  };
  worker.on('message', (said: FromThread) => {
    if (said.id !== current?.id) return;
    if ('progress' in said) current.options.progress?.(said.progress);
    else if ('done' in said) current.resolve(said.done);
    else if ('refused' in said) current.reject(new Refusal(said.refused));
    else current.reject(withStack(said.failed));
  });
  worker.on('messageerror', (error) => end(crashed(crashWords(error), error)));
  worker.on('error', (error) => end(crashed(crashWords(error), error)));
  worker.on('exit', (code) => end(crashed(`its thread ended with code ${code}`)));
  /** The task ends with the thread, not before: whoever clears up after it must not meet it. */
  const endThread = (): void => {
    over ??= stoppedWork();
    void worker.terminate();
  };
  const close = (): Promise<unknown> => {
    end(stoppedWork());
    return worker.terminate();
  };
  return {
    run: async (task, args, options = {}) => {
      const id = count++;
      let patience: NodeJS.Timeout | undefined;
      const stop = (): void => {
        tell({ id, stop: true });
        // A thread in the midst of work hears nothing.
        if (options.grace !== undefined) patience = setTimeout(endThread, options.grace);
      };
      try {
        return await new Promise<unknown>((resolve, reject) => {
          if (over !== null) throw over;
          current = { id, options, resolve, reject };
          tell({ id, task, args });
          options.signal?.addEventListener('abort', stop, { once: true });
          if (options.signal?.aborted === true) stop();
        });
      } finally {
        current = null;
        clearTimeout(patience);
        options.signal?.removeEventListener('abort', stop);
      }
    },
    isAlive: () => over === null,
    close,
  };
}

/** Holds tasks to what holds in a thread: arguments, messages and results are cloned. */
function inProcess(load: () => Promise<Tasks>): LooseHost {
  const closing = new AbortController();
  const isClosed = new Promise<never>((_, reject) => {
    closing.signal.addEventListener('abort', () => reject(stoppedWork()));
  });
  isClosed.catch(() => {});
  let loaded: Promise<Tasks> | null = null;
  return {
    run: async (task, args, { progress, signal } = {}) => {
      const tools = {
        progress: (message: unknown) => progress?.(structuredClone(message)),
        signal: AbortSignal.any([closing.signal, ...(signal === undefined ? [] : [signal])]),
      };
      const work = async (): Promise<unknown> => {
        const tasks = await (loaded ??= load());
        const { value, transfer } = await doTask(tasks, task, structuredClone(args), tools);
        return structuredClone(value, { transfer });
      };
      return Promise.race([work(), isClosed]);
    },
    isAlive: () => !closing.signal.aborted,
    close: async () => closing.abort(),
  };
}

function withStack({ message, stack }: { message: string; stack: string | undefined }): Error {
  const error = new Error(message);
  if (stack !== undefined) error.stack = stack;
  return error;
}

function crashed(why: string, cause?: Error): Error {
  return new Error(`the work was not finished: ${why}. Nothing else is lost; try it again`, {
    cause,
  });
}

function crashWords(error: NodeJS.ErrnoException): string {
  if (error.code === 'ERR_WORKER_OUT_OF_MEMORY') return 'it ran out of memory';
  return `its thread failed (${error.message})`;
}

/** Why a task gives nothing that was stopped before it was done. */
export function stoppedWork(): Refusal {
  return new Refusal([
    {
      severity: 'error',
      rule: 'stopped',
      message: 'this was stopped before it was done.',
      todo: 'Begin it again.',
      where: {},
    },
  ]);
}
