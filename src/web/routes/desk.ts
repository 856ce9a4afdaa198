import type { RunEvent } from '../api/events.ts';
import type { Refused } from '../api/refused.ts';
import type { ServerThreads } from '../tasks/threads.ts';
import type { Cuts } from '../under-way/cuts.ts';
import type { Channel } from '../under-way/events.ts';
import type { Glances } from '../under-way/glances.ts';
import type { RunFolders } from '../under-way/run-folders.ts';
import type { Searches } from '../under-way/searches.ts';
import type { Workshop } from '../workshop/workshop.ts';

/** What all routes work with: the workshop, and what is under way in it. */
export interface Desk {
  readonly shop: Workshop;
  readonly threads: ServerThreads;
  /** One thread alone, for work that takes no time once its files are known. */
  readonly quick: ServerThreads;
  /** One thread alone for what is done to sets and asked of them. */
  readonly drafts: ServerThreads;
  readonly events: Channel<RunEvent>;
  readonly searches: Searches;
  readonly folders: RunFolders;
  readonly glances: Glances;
  readonly cuts: Cuts;
  /** Gives the answer with its findings naming files by their way from the workshop's folder. */
  readonly told: <T extends Refused>(answer: T) => T;
}
