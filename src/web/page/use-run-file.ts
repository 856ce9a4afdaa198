import { useCallback, useEffect, useRef, useState } from 'preact/hooks';
import type { Finding } from '../../base/findings.ts';
import type { RunContent } from '../../run/run-file.ts';
import type { RunEvent } from '../api/events.ts';
import type { SentRunFile } from '../api/run-file.ts';
import { calls } from './server/calls.ts';
import { findingsToShow } from './server/client.ts';
import { listenToRun } from './server/listen-to-run.ts';

/** A run file that is open: what it says, and what happens to it. */
export interface OpenRunFile {
  readonly name: string;
  readonly file: SentRunFile | null;
  readonly findings: readonly Finding[];
  readonly isSaving: boolean;
  /** Saves the run as it now is. */
  readonly change: (content: RunContent) => void;
  /** Takes the last step back, or does it again; null: there is nothing. */
  readonly undo: (() => void) | null;
  readonly redo: (() => void) | null;
  readonly reload: () => Promise<void>;
  /** Calls `heed` with everything that happens to the run, until what it returns is called. */
  readonly onEvent: (heed: (event: RunEvent) => void) => () => void;
  /**
   * How often the server was found again after a break. When it changes, what was missed meanwhile has
   * to be asked for.
   */
  readonly connection: number;
}

/**
 * Opens a run file. Changes are saved at once, one after the other; changes made in other windows are
 * taken over.
 */
export function useRunFile(name: string): OpenRunFile {
  const [file, setFile] = useState<SentRunFile | null>(null);
  const [findings, setFindings] = useState<readonly Finding[]>([]);
  const [isSaving, setSaving] = useState(false);
  const [connection, setConnection] = useState(0);
  const current = useRef<SentRunFile | null>(null);
  const waiting = useRef<RunContent | null>(null);
  const busy = useRef(false);
  const saving = useRef(Promise.resolve());
  const steps = useRef(Promise.resolve());
  const heeds = useRef(new Set<(event: RunEvent) => void>());

  const take = useCallback((next: SentRunFile): void => {
    current.current = next;
    setFile(next);
  }, []);
  const reload = useCallback(async (): Promise<void> => {
    const known = current.current?.version;
    try {
      const next = await calls.runFile(name);
      // An answer that is older than what was saved from here meanwhile is not taken.
      if (busy.current || current.current?.version !== known) return;
      take(next);
      // What was refused was of the run as it was.
      if (next.version !== known) setFindings([]);
    } catch (error) {
      setFindings(findingsToShow(error));
    }
  }, [name]);

  const save = async (): Promise<void> => {
    busy.current = true;
    setSaving(true);
    try {
      while (waiting.current !== null) {
        const content = waiting.current;
        waiting.current = null;
        const saved = await calls.saveRunFile(name, {
          content,
          version: current.current!.version,
        });
        current.current = { ...current.current!, ...saved };
        setFile((before) => ({ ...before!, ...saved }));
      }
      setFindings([]);
    } catch (error) {
      waiting.current = null;
      setFindings(findingsToShow(error));
      busy.current = false;
      // What could not be saved is given up for what the file says.
      take(await calls.runFile(name).catch(() => current.current!));
    } finally {
      busy.current = false;
      setSaving(false);
    }
  };
  const change = useCallback(
    (content: RunContent): void => {
      waiting.current = content;
      setFile((before) => ({ ...before!, content }));
      if (!busy.current) saving.current = save();
    },
    [name],
  );

  /** Goes a step back or forth, once what was asked before is done: it is a step from what is there then. */
  const step = (way: 'undo' | 'redo', go: typeof calls.undoRun): void => {
    const goOne = async (): Promise<void> => {
      await saving.current;
      if (current.current![way] === null) return;
      try {
        await go(name, current.current!.version);
        setFindings([]);
      } catch (error) {
        setFindings(findingsToShow(error));
      }
      await reload();
    };
    steps.current = steps.current.then(goOne);
  };

  useEffect(() => {
    let isFirst = true;
    const stop = listenToRun(
      name,
      (event) => {
        const own = current.current?.version;
        const isNews =
          (event.kind === 'saved' || event.kind === 'laid') &&
          event.version !== null &&
          event.version !== own;
        if (isNews && !busy.current) void reload();
        for (const heed of heeds.current) heed(event);
      },
      () => {
        if (!isFirst) {
          setConnection((before) => before + 1);
          if (!busy.current) void reload();
        }
        isFirst = false;
      },
    );
    // The file is asked for only now: whatever happens to it after that is heard.
    void reload();
    return stop;
  }, [name]);

  const onEvent = useCallback((heed: (event: RunEvent) => void) => {
    heeds.current.add(heed);
    return () => {
      heeds.current.delete(heed);
    };
  }, []);
  return {
    name,
    file,
    findings,
    isSaving,
    change,
    undo: file === null || file.undo === null ? null : () => step('undo', calls.undoRun),
    redo: file === null || file.redo === null ? null : () => step('redo', calls.redoRun),
    reload,
    onEvent,
    connection,
  };
}
