import { threadFile } from '../../base/threads/host.ts';
import type { Threads } from '../../base/threads/pool.ts';
import { openThreads } from '../../base/threads/pool.ts';
import type { ServerTasks } from './tasks.ts';

/** Threads for the work of the page's server, so that it always answers. */
export type ServerThreads = Threads<ServerTasks>;

/**
 * Loads the tasks when the first is asked for, since they bring nearly the whole product with them.
 */
export const loadTasks = async (): Promise<ServerTasks> => (await import('./tasks.ts')).tasks;

/** Opens a pool of at most `most` threads that do the tasks of the server. */
export function openServerThreads(most: number): ServerThreads {
  return openThreads({ entry: threadFile('thread.js', import.meta.url), load: loadTasks }, most);
}
