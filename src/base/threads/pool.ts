import type { RunTask, TaskHost, TaskSource } from './host.ts';
import { openHost, stoppedWork } from './host.ts';
import type { Tasks } from './task.ts';

/** Threads that any task can be given to. */
export interface Threads<T extends Tasks> {
  /**
   * Runs a task as soon as a thread is free. Throws what the task throws (see TaskHost), and a Refusal
   * where it is stopped before it began, by its signal or by `close`.
   */
  readonly run: RunTask<T>;
  /** Ends all tasks, whatever they are at. */
  readonly close: () => Promise<void>;
}

/** How long (ms) threads may wait for work before they are ended and give their memory back. */
export interface Patience {
  readonly usual: number;
  /** Where the whole process holds more memory than `most`, bytes. */
  readonly crowded: number;
  readonly most: number;
}

/**
 * Opens a pool of at most `most` threads. Each is started when there is work for it and used again; one
 * that has crashed is replaced, and with `patience` one that waits too long is ended. Tasks that find none
 * free wait in line.
 */
export function openThreads<T extends Tasks>(
  source: TaskSource<T>,
  most: number,
  patience: Patience | null = null,
): Threads<T> {
  const hosts = new Set<TaskHost<T>>();
  const ends = new Map<TaskHost<T>, NodeJS.Timeout>();
  const idle: TaskHost<T>[] = [];
  const line: Waiting<TaskHost<T>>[] = [];
  let closed = false;

  const open = (): TaskHost<T> => {
    const host = openHost(source);
    hosts.add(host);
    return host;
  };
  const free = (signal: AbortSignal | undefined): TaskHost<T> | Promise<TaskHost<T>> => {
    if (closed || signal?.aborted === true) throw stoppedWork();
    const host = aliveAmong(idle);
    if (host !== null) {
      clearInterval(ends.get(host));
      return host;
    }
    for (const one of hosts) if (!one.isAlive()) hosts.delete(one);
    return hosts.size < most ? open() : inLine(line, signal);
  };
  const release = (host: TaskHost<T>): void => {
    if (closed) return;
    const next = line.shift();
    if (next !== undefined) next.resolve(host.isAlive() ? host : open());
    else if (host.isAlive()) {
      idle.push(host);
      endLater(host);
    }
  };
  const endLater = (host: TaskHost<T>): void => {
    if (patience === null) return;
    const { usual, crowded, most: memory } = patience;
    const since = Date.now();
    const look = (): void => {
      const isCrowded = process.memoryUsage.rss() > memory;
      if (!isCrowded && Date.now() - since < usual) return;
      clearInterval(ends.get(host));
      ends.delete(host);
      const at = idle.indexOf(host);
      if (at >= 0) idle.splice(at, 1);
      hosts.delete(host);
      void host.close();
    };
    // What waits for nothing but this may end.
    ends.set(host, setInterval(look, Math.min(crowded, usual)).unref());
  };
  return {
    run: async (task, args, options = {}) => {
      const host = await free(options.signal);
      try {
        return await host.run(task, args, options);
      } finally {
        release(host);
      }
    },
    close: async () => {
      closed = true;
      for (const { reject } of line.splice(0)) reject(stoppedWork());
      for (const timer of ends.values()) clearInterval(timer);
      await Promise.all([...hosts].map((host) => host.close()));
    },
  };
}

/** Somebody who waits in line for a host. */
interface Waiting<Host> {
  readonly resolve: (host: Host) => void;
  readonly reject: (error: Error) => void;
}

/** Takes hosts off the list until one of them still lives; null where none does. */
function aliveAmong<Host extends Pick<TaskHost<Tasks>, 'isAlive'>>(idle: Host[]): Host | null {
  for (;;) {
    const host = idle.pop();
    if (host === undefined) return null;
    if (host.isAlive()) return host;
  }
}

/** Waits in line for a host; leaves the line when the signal is aborted. */
function inLine<Host>(line: Waiting<Host>[], signal: AbortSignal | undefined): Promise<Host> {
  return new Promise((resolve, reject) => {
    const leave = (): void => {
      line.splice(line.indexOf(waiting), 1);
      reject(stoppedWork());
    };
    const waiting: Waiting<Host> = {
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
