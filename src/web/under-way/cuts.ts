import type { Finding } from '../../base/findings.ts';
import { refuse } from '../../base/findings.ts';
import { listOf } from '../../jobs/as-made.ts';
import { progressAt } from '../../jobs/cut-progress.ts';
import { clearAfterThread } from '../../publishing/target.ts';
import type { RunEvent } from '../api/events.ts';
import type { CutState } from '../api/files.ts';
import { findingsOfFailure } from '../failure.ts';
import type { ServerThreads } from '../tasks/threads.ts';
import { openRunFile } from '../workshop/run-file.ts';
import type { Workshop } from '../workshop/workshop.ts';
import { runFolderIn } from '../workshop/workshop.ts';
import type { Channel } from './events.ts';

/**
 * The making of the files of runs: what is under way, and how it ended since the server began. Each
 * run's files are made once at a time.
 */
export interface Cuts {
  /**
   * Begins to make the files of a run. Throws a Refusal where that is under way already, or where there
   * is no such run.
   */
  readonly begin: (run: string) => void;
  /** Stops it, where it is under way; the files before are as they were. */
  readonly stop: (run: string) => Promise<void>;
  readonly stateOf: (run: string) => CutState;
  /** Waits until all that is under way is done. */
  readonly close: () => Promise<void>;
}

/** The files that this server has made of a run: what tells them, and what was worth a look. */
interface Made {
  readonly list: string | null;
  readonly findings: readonly Finding[];
}

/** A cut that is under way. */
interface UnderWay {
  readonly stop: AbortController;
  readonly done: Promise<void>;
}

/** Work that hears nothing of a stop is ended after so many ms, with its thread. */
const grace = 800;

const begun: CutState = {
  isUnderWay: true,
  progress: progressAt('reading', 'beginning'),
  ended: null,
  findings: [],
};

export function openCuts(shop: Workshop, threads: ServerThreads, channel: Channel<RunEvent>): Cuts {
  const states = new Map<string, CutState>();
  const underWay = new Map<string, UnderWay>();
  const known = new Map<string, Made>();
  const turn = (run: string, state: CutState): void => {
    states.set(run, state);
    channel.tell(run, { kind: 'cut', ...state });
  };
  const end = (
    run: string,
    ended: NonNullable<CutState['ended']>,
    findings: readonly Finding[],
  ): void => turn(run, { isUnderWay: false, progress: null, ended, findings });
  const cut = async (run: string, { signal }: AbortController): Promise<void> => {
    const folder = runFolderIn(shop, run);
    const stood = listOf(folder);
    const before = known.get(run) ?? { list: null, findings: [] };
    try {
      const { findings, list } = await threads.run(
        'cut',
        { shop, run, made: before.list },
        { signal, grace, progress: (progress) => turn(run, { ...begun, progress }) },
      );
      known.set(run, { list, findings: findings ?? before.findings });
      end(run, findings === null ? 'same' : 'made', findings ?? before.findings);
    } catch (error) {
      if (!signal.aborted) return end(run, 'refused', findingsOfFailure(error));
      // A thread that was ended in the midst of its work leaves what it had begun to write. It may have done
      // the last of it too.
      clearAfterThread(folder);
      end(run, listOf(folder) === stood ? 'stopped' : 'made', []);
    }
  };
  const stateOf = (run: string): CutState =>
    states.get(run) ?? { isUnderWay: false, progress: null, ended: null, findings: [] };
  return {
    begin: (run) => {
      openRunFile(shop, run);
      if (stateOf(run).isUnderWay) {
        refuse('busy', 'the files of this run are being made.', 'Wait for them, or stop it.');
      }
      turn(run, begun);
      const stop = new AbortController();
      const done = cut(run, stop).finally(() => underWay.delete(run));
      underWay.set(run, { stop, done });
    },
    stop: async (run) => {
      const own = underWay.get(run);
      own?.stop.abort();
      await own?.done;
    },
    stateOf,
    close: async () => {
      await Promise.all([...underWay.values()].map(({ done }) => done));
    },
  };
}
