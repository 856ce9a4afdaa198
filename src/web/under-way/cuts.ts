import type { Finding } from '../../base/findings.ts';
import { refuse } from '../../base/findings.ts';
import type { RunEvent } from '../api/events.ts';
import type { CutState } from '../api/files.ts';
import { findingsOfFailure } from '../failure.ts';
import type { ServerThreads } from '../tasks/threads.ts';
import { openRunFile } from '../workshop/run-file.ts';
import type { Workshop } from '../workshop/workshop.ts';
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
  readonly stateOf: (run: string) => CutState;
  /** Waits until all that is under way is done. */
  readonly close: () => Promise<void>;
}

export function openCuts(shop: Workshop, threads: ServerThreads, channel: Channel<RunEvent>): Cuts {
  const states = new Map<string, CutState>();
  const underWay = new Set<Promise<void>>();
  const turn = (run: string, state: CutState): void => {
    states.set(run, state);
    channel.tell(run, { kind: 'cut', ...state });
  };
  const cut = async (run: string): Promise<void> => {
    let findings: readonly Finding[];
    try {
      findings = (await threads.run('cut', { shop, run })).findings;
    } catch (error) {
      findings = findingsOfFailure(error);
    }
    turn(run, { isUnderWay: false, findings });
  };
  const stateOf = (run: string): CutState => states.get(run) ?? { isUnderWay: false, findings: [] };
  return {
    begin: (run) => {
      openRunFile(shop, run);
      if (stateOf(run).isUnderWay) {
        refuse('busy', 'the files of this run are being made.', 'Wait for them.');
      }
      turn(run, { isUnderWay: true, findings: [] });
      const job = cut(run).finally(() => underWay.delete(job));
      underWay.add(job);
    },
    stateOf,
    close: async () => {
      await Promise.all(underWay);
    },
  };
}
