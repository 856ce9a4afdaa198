import { useEffect, useState } from 'preact/hooks';
import type { Finding } from '../../../base/findings.ts';
import type { CutState } from '../../api/files.ts';
import { calls } from '../server/calls.ts';
import { findingsToShow } from '../server/client.ts';
import type { OpenRunFile } from '../use-run-file.ts';

/** The making of a run's files, as the page sees it. */
export interface CutOnPage {
  /** null: not known yet. */
  readonly state: CutState | null;
  /** Why the last wish was refused. */
  readonly refused: readonly Finding[];
  /** How often it has ended since the page looks on. */
  readonly ended: number;
  readonly begin: () => void;
  readonly stop: () => void;
}

export function useCut(run: OpenRunFile): CutOnPage {
  const [state, setState] = useState<CutState | null>(null);
  const [refused, setRefused] = useState<readonly Finding[]>([]);
  const [ended, setEnded] = useState(0);
  const refuse = (error: unknown): void => setRefused(findingsToShow(error));
  // What was told while the page was not listening is asked for.
  useEffect(() => {
    calls.cutState(run.name).then(setState).catch(refuse);
  }, [run.name, run.connection]);
  useEffect(
    () =>
      run.onEvent((event) => {
        if (event.kind !== 'cut') return;
        setState(event);
        if (!event.isUnderWay) setEnded((before) => before + 1);
      }),
    [run.name],
  );
  const ask = (wish: (name: string) => Promise<unknown>): void => {
    setRefused([]);
    wish(run.name).catch(refuse);
  };
  return {
    state,
    refused,
    ended,
    begin: () => ask(calls.cut),
    stop: () => ask(calls.stopCut),
  };
}
