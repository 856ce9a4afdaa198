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

/** How long threads wait for work. */
const patience = {
  /** Any will do: the next is as good. */
  passing: { large: 5_000, small: 40_000 },
  /** It answers at once since it knows what it works on: it only goes where that is large. */
  lasting: { large: 40_000, small: Infinity },
} satisfies Record<string, Patience>;

/** Opens a pool of at most `most` threads that do the tasks of the server. */
export function openServerThreads(
  most: number,
  kind: keyof typeof patience = 'passing',
): ServerThreads {
  const source = { entry: threadFile('thread.js', import.meta.url), load: loadTasks };
  return openThreads(source, most, patience[kind]);
}
