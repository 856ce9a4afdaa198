/** Work that would hold up the server is done in threads of its own. */
import { Worker } from 'node:worker_threads';
import type { Finding } from '../base/findings.ts';
import { Refusal } from '../base/findings.ts';
import type { Tasks, TaskTools } from './task.ts';

export interface RunOptions {
  // A method, so that a caller may say what messages he expects.
  progress?(message: unknown): void;
  readonly signal?: AbortSignal;
}

export interface Threads {
  /**
   * Runs a task. Throws the Refusal that it throws, and where it is stopped before it began or by
   * `close`; an Error with its stack where it fails.
   */
  readonly run: <T>(task: string, args: unknown, options?: RunOptions) => Promise<T>;
  /** Ends all tasks, whatever they are at. */
  readonly close: () => Promise<void>;
}

export interface ThreadsOptions {
  /** What a thread loads; null: all is done in this thread. */
  readonly entry?: URL | null;
  /** Tasks that run at a time; others wait in line. */
  readonly most?: number;
  /** Where all is done in this thread: what there is to do. */
  readonly tasks?: () => Promise<Tasks>;
}

/** To a thread: a task, or to stop one. */
export type Asked =
  | { readonly id: number; readonly task: string; readonly args: unknown }
  | { readonly id: number; readonly stop: true };

/** From a thread. */
export type Said =
  | { readonly id: number; readonly progress: unknown }
  | { readonly id: number; readonly done: unknown }
  | { readonly id: number; readonly refused: readonly Finding[] }
  | { readonly id: number; readonly failed: { message: string; stack: string | undefined } };

/** Loaded when first needed: the tasks bring nearly the whole product with them. */
export const loadTasks = async (): Promise<Tasks> => (await import('./tasks/tasks.ts')).tasks;

/** Sources that are run as they are, without having been built, have no file that a thread could load. */
const built = import.meta.url.endsWith('.js') ? new URL('thread.js', import.meta.url) : null;

/** Opens a pool of threads; each is started when there is work for it, and used again. */
export function openThreads({
  entry = built,
  most = 4,
  tasks = loadTasks,
}: ThreadsOptions = {}): Threads {
  const hosts = new Set<Host>();
  const idle: Host[] = [];
  const line: Waiting[] = [];
  let closed = false;

  const open = (): Host => {
    const host = entry === null ? inProcess(tasks) : inThread(entry);
    hosts.add(host);
    return host;
  };
  const free = (signal: AbortSignal | undefined): Host | Promise<Host> => {
    if (closed || signal?.aborted === true) throw stopped();
    const host = aliveAmong(idle);
    if (host !== null) return host;
    for (const one of hosts) if (!one.isAlive()) hosts.delete(one);
    return hosts.size < most ? open() : inLine(line, signal);
  };
  const release = (host: Host): void => {
    if (closed) return;
    const next = line.shift();
    if (next !== undefined) next.resolve(host.isAlive() ? host : open());
    else if (host.isAlive()) idle.push(host);
  };
  return {
    run: async <T>(task: string, args: unknown, options: RunOptions = {}): Promise<T> => {
      const host = await free(options.signal);
      try {
        return (await host.run(task, args, options)) as T;
      } finally {
        release(host);
      }
    },
    close: async () => {
      closed = true;
      for (const { reject } of line.splice(0)) reject(stopped());
      await Promise.all([...hosts].map((host) => host.close()));
    },
  };
}

/** Where one task at a time is done. */
interface Host {
  readonly run: (task: string, args: unknown, options: RunOptions) => Promise<unknown>;
  /** Not after it crashed. */
  readonly isAlive: () => boolean;
  readonly close: () => Promise<unknown>;
}

/** Somebody who wants a value and has not got it yet. */
interface Waiting<T = Host> {
  readonly resolve: (value: T) => void;
  readonly reject: (error: Error) => void;
}

/** Takes a host that still lives off the list. */
function aliveAmong(idle: Host[]): Host | null {
  for (;;) {
    const host = idle.pop();
    if (host === undefined) return null;
    if (host.isAlive()) return host;
  }
}

/** Waits in line for a host; leaves it when the signal is aborted. */
function inLine(line: Waiting[], signal: AbortSignal | undefined): Promise<Host> {
  return new Promise((resolve, reject) => {
    const leave = (): void => {
      line.splice(line.indexOf(waiting), 1);
      reject(stopped());
    };
    const waiting: Waiting = {
      resolve: (host) => {
        signal?.removeEventListener('abort', leave);
        resolve(host);
      },
      reject: (error) => {
        signal?.removeEventListener('abort', leave);
        reject(error);
      },
    };
    line.push(waiting);
    signal?.addEventListener('abort', leave, { once: true });
  });
}

function inThread(entry: URL): Host {
  const worker = new Worker(entry);
  let over: Error | null = null;
  let count = 0;
  let current: (Waiting<unknown> & { readonly id: number; readonly options: RunOptions }) | null =
    null;
  const tell = (asked: Asked): void => worker.postMessage(asked);
  const end = (why: Error): void => {
    over ??= why;
    current?.reject(over);
  };
  worker.on('message', (said: Said) => {
    if (said.id !== current?.id) return;
    if ('progress' in said) current.options.progress?.(said.progress);
    else if ('done' in said) current.resolve(said.done);
    else if ('refused' in said) current.reject(new Refusal(said.refused));
    else current.reject(withStack(said.failed));
  });
  worker.on('messageerror', (error) => end(crashed(crashWords(error), error)));
  worker.on('error', (error) => end(crashed(crashWords(error), error)));
  worker.on('exit', (code) => end(crashed(`its thread ended with code ${code}`)));
  return {
    run: async (task, args, options) => {
      const id = count++;
      const stop = (): void => tell({ id, stop: true });
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
        options.signal?.removeEventListener('abort', stop);
      }
    },
    isAlive: () => over === null,
    close: () => {
      end(stopped());
      return worker.terminate();
    },
  };
}

/** Holds tasks to what holds in a thread: arguments, messages and results are cloned. */
function inProcess(load: () => Promise<Tasks>): Host {
  const closing = new AbortController();
  const isClosed = new Promise<never>((_, reject) => {
    closing.signal.addEventListener('abort', () => reject(stopped()));
  });
  isClosed.catch(() => {});
  return {
    run: async (task, args, { progress, signal }) => {
      const tools: TaskTools = {
        progress: (message) => progress?.(structuredClone(message)),
        signal: AbortSignal.any([closing.signal, ...(signal === undefined ? [] : [signal])]),
      };
      const work = async (): Promise<unknown> => {
        const { value, transfer } = await doTask(await load(), task, structuredClone(args), tools);
        return structuredClone(value, { transfer });
      };
      return Promise.race([work(), isClosed]);
    },
    isAlive: () => !closing.signal.aborted,
    close: async () => closing.abort(),
  };
}

/** Does a task of the table; what it gives, and the buffers that go with it. */
export async function doTask(
  tasks: Tasks,
  name: string,
  args: unknown,
  tools: TaskTools,
): Promise<{ readonly value: unknown; readonly transfer: ArrayBuffer[] }> {
  if (!Object.hasOwn(tasks, name)) throw new Error(`there is no task ${name}`);
  const result = await tasks[name]!(args as never, tools);
  return isHandedOver(result) ? result : { value: result, transfer: [] };
}

function isHandedOver(result: unknown): result is { value: unknown; transfer: ArrayBuffer[] } {
  return typeof result === 'object' && result !== null && 'transfer' in result && 'value' in result;
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

function stopped(): Refusal {
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
