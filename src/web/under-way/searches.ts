import type { Finding } from '../../base/findings.ts';
import { refuse } from '../../base/findings.ts';
import type { RunEvent } from '../api/events.ts';
import type { SearchState, SearchWish } from '../api/lay.ts';
import type { PicturedLay } from '../api/pictured.ts';
import { recordedName } from '../../program/record/run-record.ts';
import { findingsOfFailure } from '../failure.ts';
import type { KeptLays, LayWish } from '../tasks/lay.ts';
import type { ServerThreads } from '../tasks/threads.ts';
import { keepEarlierLays } from '../workshop/earlier-lays.ts';
import { withLays } from '../workshop/lays-in-run.ts';
import { openRunFile, saveRunFile } from '../workshop/run-file.ts';
import { beginRunSteps } from '../workshop/run-history.ts';
import type { Workshop } from '../workshop/workshop.ts';
import type { Channel } from './events.ts';

/** A search that is under way, or one that is over and whose lays could not be saved yet. */
interface RunSearch {
  readonly stop: AbortController;
  /** The version of the run file that the search began with, or wrote last. */
  version: string;
  state: SearchState | null;
  readonly shown: Map<string, PicturedLay>;
  unsaved: readonly PicturedLay[] | null;
  done: Promise<void>;
}

/** The searches of all runs. Each run has one at a time. */
export interface Searches {
  /** Begins a search. Throws a Refusal where one is under way. */
  readonly begin: (run: string, wish: SearchWish) => void;
  /** Ends a search and saves its best lay so far. It is no fault where no search is under way. */
  readonly stop: (run: string) => Promise<void>;
  /**
   * Tries once more to save what could not be saved, and gives the run file's new version. Throws a
   * Refusal where there is nothing to save, or where it fails again.
   */
  readonly save: (run: string) => string;
  /** How the search of a run stands; null where none is under way. */
  readonly stateOf: (run: string) => SearchState | null;
  /** Lays that a search has found and that are not in the run file (yet). */
  readonly laysOf: (run: string) => readonly PicturedLay[];
  /**
   * Is called before anything else is done to a run: saves what could not be saved before. Throws a
   * Refusal where the run is being searched.
   */
  readonly settle: (run: string) => void;
  /** Ends all searches and saves what they have found. */
  readonly close: () => Promise<void>;
}

export function openSearches(
  shop: Workshop,
  threads: ServerThreads,
  channel: Channel<RunEvent>,
): Searches {
  const searches = new Map<string, RunSearch>();

  const heed = (run: string, search: RunSearch, event: RunEvent | KeptLays): void => {
    if (event.kind === 'keep') return keepSoFar(run, search, event.lays);
    if (event.kind === 'search') {
      const { kind: _, ...state } = event;
      search.state = state;
    }
    if (event.kind === 'lay') search.shown.set(recordedName(event), event);
    channel.tell(run, event);
  };

  const saveLays = (run: string, search: RunSearch, lays: readonly PicturedLay[]): string => {
    const { content, version } = openRunFile(shop, run);
    if (version !== search.version) {
      search.unsaved = null;
      searches.delete(run);
      refuse(
        'changed-since',
        'the run was changed while its parts were being laid.',
        'Search again: what was found belongs to the run as it was.',
      );
    }
    const laid = withLays(content, lays);
    const now = saveRunFile(shop, run, laid, version, 'search');
    try {
      keepEarlierLays(shop, run, laid, lays, new Date());
    } catch {
      // The run file has the lay; that there is no way back to it later is no reason to give it up.
    }
    return now;
  };

  /** Whatever becomes of the search and of this server, what was found so far is in the run file. */
  const keepSoFar = (run: string, search: RunSearch, lays: readonly PicturedLay[]): void => {
    try {
      const { content, version } = openRunFile(shop, run);
      if (version !== search.version) return;
      search.version = saveRunFile(shop, run, withLays(content, lays), version, 'none');
    } catch {
      // What cannot be written now, or what somebody wrote meanwhile, is told when the search is over.
    }
  };

  const search = async (run: string, own: RunSearch, wish: SearchWish): Promise<void> => {
    let findings: readonly Finding[] = [];
    let version: string | null = null;
    try {
      const laid = await threads.run(
        'lay',
        { shop, run, asked: Date.now(), ...wish } satisfies LayWish,
        {
          signal: own.stop.signal,
          progress: (event) => heed(run, own, event),
        },
      );
      findings = laid.findings;
      own.unsaved = laid.lays;
      version = saveLays(run, own, laid.lays);
      own.unsaved = null;
    } catch (error) {
      findings = [...findings, ...findingsOfFailure(error)];
    }
    own.state = null;
    if (own.unsaved === null) searches.delete(run);
    channel.tell(run, { kind: 'laid', findings, version });
  };

  const save = (run: string): string => {
    const own = searches.get(run);
    if (own === undefined || own.unsaved === null) {
      return refuse('nothing-to-save', 'all that was found is saved.', 'Go on.');
    }
    const version = saveLays(run, own, own.unsaved);
    searches.delete(run);
    channel.tell(run, { kind: 'saved', version });
    return version;
  };
  const settle = (run: string): void => {
    const own = searches.get(run);
    if (own === undefined) return;
    if (own.state !== null) refuseBusy();
    if (own.unsaved !== null) save(run);
  };
  return {
    begin: (run, wish) => {
      settle(run);
      const { version } = openRunFile(shop, run);
      beginRunSteps(shop, run);
      const own: RunSearch = {
        stop: new AbortController(),
        version,
        state: { cloth: '', number: 0, of: 0, elapsed: 0, left: wish.seconds, unfit: [] },
        shown: new Map(),
        unsaved: null,
        done: Promise.resolve(),
      };
      searches.set(run, own);
      // Whoever asked for it sees it at once, long before the first part is laid.
      channel.tell(run, { kind: 'search', ...own.state! });
      own.done = search(run, own, wish);
    },
    stop: async (run) => {
      const own = searches.get(run);
      own?.stop.abort();
      await own?.done;
    },
    save,
    stateOf: (run) => searches.get(run)?.state ?? null,
    laysOf: (run) => {
      const own = searches.get(run);
      return own === undefined ? [] : (own.unsaved ?? [...own.shown.values()]);
    },
    settle,
    close: async () => {
      const all = [...searches.values()];
      for (const { stop } of all) stop.abort();
      await Promise.all(all.map(({ done }) => done));
    },
  };
}

function refuseBusy(): never {
  return refuse(
    'busy',
    'the parts of this run are being laid.',
    'Stop the search first; what it has found stays.',
  );
}
