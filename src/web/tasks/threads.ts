import { threadFile } from '../../base/threads/host.ts';
import type { Patience, Threads } from '../../base/threads/pool.ts';
import { openThreads } from '../../base/threads/pool.ts';
import type { ServerTasks } from './tasks.ts';

/** Threads for the work of the page's server, so that it always answers. */
export type ServerThreads = Threads<ServerTasks>;

/**
 * Loads the tasks when the first is asked for, since they bring nearly the whole product with them.
 */
export const loadTasks = async (): Promise<ServerTasks> => (await import('./tasks.ts')).tasks;

/** What a server holds that has a few orders in hand, bytes; after large work it is many times as much. */
const most = 240e6;

/** How long threads wait for work. */
const patience = {
  /** Any will do: the next is as good. */
  passing: { usual: 40_000, crowded: 8_000, most },
  /** It answers at once since it knows what it works on: it only goes where memory is short. */
  lasting: { usual: Infinity, crowded: 45_000, most },
} satisfies Record<string, Patience>;

/** Opens a pool of at most `count` threads that do the tasks of the server. */
export function openServerThreads(
  count: number,
  kind: keyof typeof patience = 'passing',
): ServerThreads {
  const source = { entry: threadFile('thread.js', import.meta.url), load: loadTasks };
  return openThreads(source, count, patience[kind]);
}
