import type { JSX } from 'preact';
import { useLayoutEffect, useRef, useState } from 'preact/hooks';
import type { CutProgress } from '../../../jobs/cut-progress.ts';
import type { CutState, RunFolder } from '../../api/files.ts';
import type { CutOnPage } from './use-cut.ts';

/**
 * Makes the files of a run: the button, what is being done, and Stop. Files that are there are replaced only
 * once somebody has said that none of them is on a machine.
 */
export function MakeFiles({
  name,
  folder,
  cutSoFar,
  cut: { state, begin, stop },
}: {
  name: string;
  /** What is cut of the files that are there, in words; empty: nothing. */
  cutSoFar: string;
  /** The files that are there; null: none. */
  folder: Pick<RunFolder, 'fingerprint' | 'changes'> | null;
  cut: CutOnPage;
}): JSX.Element {
  const [isSure, setSure] = useState(false);
  const progress = state?.isUnderWay === true ? (state.progress ?? null) : null;
  const desk = useFocusThatFollows(isSure ? 'sure' : progress === null ? 'idle' : 'making');
  const make = (): void => {
    setSure(false);
    begin();
  };
  return (
    <div class="desk make-files" ref={desk}>
      {progress !== null ? (
        <>
          <button class="button large" onClick={stop}>
            Stop
          </button>
          <Making progress={progress} />
        </>
      ) : folder === null ? (
        <button class="button accent large" onClick={make}>
          Make the files
        </button>
      ) : isSure ? (
        <>
          <button class="button accent large" onClick={make}>
            Yes, replace them
          </button>
          <p>
            {cutSoFar} The files of {folder.fingerprint} are replaced. Is none of them on a machine?
          </p>
          <button class="button" onClick={() => setSure(false)}>
            Keep them
          </button>
        </>
      ) : (
        <button
          class={folder.changes.length > 0 ? 'button accent large' : 'button large'}
          onClick={() => setSure(true)}
        >
          Make the files anew
        </button>
      )}
      {progress === null && <p role="status">{endWords(state, folder !== null)}</p>}
      <p class="quiet">
        As <code>pileway cut patterns/{name}.yaml</code> does, byte for byte.
      </p>
    </div>
  );
}

/** What is being done. Only a new phase is read out: what is told follows faster than anybody can listen. */
function Making({ progress: { phase, doing, share } }: { progress: CutProgress }): JSX.Element {
  const percent = Math.round(100 * share);
  return (
    <div class="making">
      <progress value={percent} max={100} aria-label="How much is done">
        {percent} %
      </progress>
      <p>
        <span class="strong">{percent} %</span> {doing}
      </p>
      <p class="unseen" role="status">
        The files are being made: {phase}.
      </p>
    </div>
  );
}

/** How the making of the files ended, where the files themselves do not tell. */
function endWords(state: CutState | null, isThere: boolean): string {
  if (state?.ended === 'same') {
    return 'Nothing has changed: these are the files already. None was made anew.';
  }
  if (state?.ended === 'stopped') {
    return isThere ? 'Stopped. The files are as they were before.' : 'Stopped. No files were made.';
  }
  return state?.ended === 'made' ? 'The files are made and proven.' : '';
}

/** When one button gives way to another, the focus stays here: it goes to the first that is there then. */
function useFocusThatFollows(phase: 'idle' | 'sure' | 'making') {
  const desk = useRef<HTMLDivElement>(null);
  const before = useRef(phase);
  // Asked before the page changes: then the button that has the focus is still there.
  const isHere = desk.current?.contains(document.activeElement) ?? false;
  useLayoutEffect(() => {
    if (before.current !== phase && isHere) desk.current?.querySelector('button')?.focus();
    before.current = phase;
  });
  return desk;
}
