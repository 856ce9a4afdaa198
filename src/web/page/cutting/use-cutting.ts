import { useEffect, useRef, useState } from 'preact/hooks';
import type { Finding } from '../../../base/findings.ts';
import type { CutStep } from '../../api/cut-steps.ts';
import type { SentMarks } from '../../api/cutting.ts';
import type { RunEvent } from '../../api/events.ts';
import { calls } from '../server/calls.ts';
import { findingsToShow } from '../server/client.ts';
import { useLoaded } from '../use-loaded.ts';

/** Calls what it is given with all that happens to a run, until what it returns is called. */
export type ListenToFolder = (heed: (event: RunEvent) => void) => () => void;

/** What is ticked of a run folder, and what ticks it. */
export interface OpenCutting {
  /** null: not known yet. */
  readonly marks: SentMarks | null;
  /** Why what was done last was refused. */
  readonly findings: readonly Finding[];
  /** The rolls of which something was ticked in this window. */
  readonly goingOn: ReadonlySet<string>;
  /** Ticks a step once what is to be done `first` is done; whether that was not refused. */
  readonly tick: (roll: string, step: CutStep, first?: () => Promise<unknown>) => Promise<boolean>;
  readonly untick: (roll: string, step: CutStep) => Promise<boolean>;
  readonly begin: () => Promise<boolean>;
  readonly reload: () => void;
}

/** Opens what is ticked of a run folder with these files; `files` is their fingerprint, null: there are none. */
export function useCutting(
  name: string,
  files: string | null,
  listen: ListenToFolder,
  connection: number,
): OpenCutting {
  const [refused, setRefused] = useState<readonly Finding[]>([]);
  const [goingOn, setGoingOn] = useState<ReadonlySet<string>>(new Set());
  const isBusy = useRef(false);
  const marks = useLoaded(
    async () => (files === null ? null : calls.marks(name)),
    [name, files, connection],
  );
  useEffect(
    () => listen((event) => event.kind === 'ticked' && marks.reload()),
    [name, files, connection],
  );
  // A second thing is not begun before the first is done.
  const doing = async (act: () => Promise<unknown>): Promise<boolean> => {
    if (isBusy.current) return false;
    isBusy.current = true;
    try {
      await act();
      setRefused([]);
      return true;
    } catch (error) {
      setRefused(findingsToShow(error));
      return false;
    } finally {
      isBusy.current = false;
      marks.reload();
    }
  };
  return {
    marks: marks.value,
    findings: [...marks.findings, ...refused],
    goingOn,
    tick: (roll, step, first = async () => {}) =>
      doing(async () => {
        await first();
        await calls.tick(name, { files: files!, roll, step });
        setGoingOn((before) => new Set([...before, roll]));
      }),
    untick: (roll, step) => doing(() => calls.untick(name, { files: files!, roll, step })),
    begin: () => doing(() => calls.beginCutting(name, files!)),
    reload: marks.reload,
  };
}
