import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { Finding } from '../../../base/findings.ts';
import type { CutState } from '../../api/files.ts';
import { Findings } from '../controls/findings.tsx';
import type { Shop } from '../../api/shop.ts';
import { calls } from '../server/calls.ts';
import { findingsToShow } from '../server/client.ts';
import { useLoaded } from '../use-loaded.ts';
import type { OpenRunFile } from '../use-run-file.ts';
import { CuttingPlace } from './cutting-place.tsx';
import { cutSoFarWords } from './step-words.ts';
import { useCutting } from './use-cutting.ts';

/** The cutting of a run: its files are made and proven, and cut roll by roll. */
export function FilesStep({
  run,
  shop,
  hasFiles,
}: {
  run: OpenRunFile;
  shop: Shop;
  /** Whether there is a folder of the run at all. */
  hasFiles: boolean;
}): JSX.Element {
  const [cut, setCut] = useState<CutState | null>(null);
  const [refused, setRefused] = useState<readonly Finding[]>([]);
  const [made, setMade] = useState(0);
  const [isSure, setSure] = useState(false);
  const isCutting = cut?.isUnderWay === true;
  const findings = [...refused, ...(cut?.findings ?? [])];
  const folder = useLoaded(
    async () => (hasFiles ? calls.runFolder(run.name) : null),
    [run.name, hasFiles, made, run.file?.version, run.connection],
  );
  const cutting = useCutting(
    run.name,
    folder.value?.fingerprint ?? null,
    run.onEvent,
    run.connection,
  );
  // What was told while the page was not listening is asked for.
  useEffect(() => {
    calls
      .cutState(run.name)
      .then(setCut)
      .catch((error: unknown) => setRefused(findingsToShow(error)));
  }, [run.name, run.connection]);
  useEffect(
    () =>
      run.onEvent((event) => {
        if (event.kind !== 'cut') return;
        setCut(event);
        if (!event.isUnderWay) setMade((before) => before + 1);
      }),
    [run.name],
  );
  const make = async (): Promise<void> => {
    setSure(false);
    setRefused([]);
    try {
      await calls.cut(run.name);
    } catch (error) {
      setRefused(findingsToShow(error));
    }
  };
  const isThere = folder.value !== null;
  const isOlder = isThere && folder.value.changes.length > 0;
  const making = (
    <>
      <div class="desk">
        {isThere && !isSure && !isCutting ? (
          <button
            class={isOlder ? 'button accent large' : 'button large'}
            onClick={() => setSure(true)}
          >
            Make the files anew
          </button>
        ) : (
          <button class="button accent large" disabled={isCutting} onClick={() => void make()}>
            {isCutting
              ? 'Planning, writing, proving …'
              : isThere
                ? 'Yes, replace them'
                : 'Make the files'}
          </button>
        )}
        {isSure && !isCutting && (
          <>
            <p>
              {cutSoFarWords(cutting.marks?.ticks ?? [])} The files of {folder.value?.fingerprint}{' '}
              are replaced. Is none of them on a machine?
            </p>
            <button class="button" onClick={() => setSure(false)}>
              Keep them
            </button>
          </>
        )}
        <p class="quiet">
          As <code>pileway cut patterns/{run.name}.yaml</code> does, byte for byte.
        </p>
      </div>
      <div role="status" class="unseen">
        {isCutting ? 'The files are being made and proven.' : ''}
      </div>
      <Findings findings={[...errorsOf(findings), ...folder.findings]} />
    </>
  );
  return (
    <div class="cutting-place">
      {folder.value === null || isCutting ? (
        <div class="cutting-below">
          {!isCutting && !folder.isLoading && (
            <>
              <h2 class="step-title">Make the files</h2>
              <p class="step-line">
                The knife’s way is planned, programs and papers are written and read back. Then each
                roll is cut from here, step by step.
              </p>
            </>
          )}
          {making}
          {folder.value === null && folder.isLoading && (
            <p class="quiet">Proving what is there …</p>
          )}
        </div>
      ) : (
        <CuttingPlace folder={folder.value} shop={shop} cutting={cutting} making={making}>
          <Warnings findings={findings} />
        </CuttingPlace>
      )}
    </div>
  );
}

function errorsOf(findings: readonly Finding[]): Finding[] {
  return findings.filter(({ severity }) => severity === 'error');
}

/** What is worth a look in the run; the papers say it as well. */
function Warnings({ findings }: { findings: readonly Finding[] }): JSX.Element | null {
  const shown = findings.filter(({ severity }) => severity !== 'error');
  if (shown.length === 0) return null;
  return (
    <details>
      <summary>What is worth a look in this run ({shown.length})</summary>
      <Findings findings={shown} />
    </details>
  );
}
