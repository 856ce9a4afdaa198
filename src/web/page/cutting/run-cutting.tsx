import type { JSX } from 'preact';
import type { Finding } from '../../../base/findings.ts';
import type { Shop } from '../../api/shop.ts';
import { addressOf } from '../address.ts';
import { Findings } from '../controls/findings.tsx';
import { calls } from '../server/calls.ts';
import { useLoaded } from '../use-loaded.ts';
import type { OpenRunFile } from '../use-run-file.ts';
import { CuttingPlace } from './cutting-place.tsx';
import { MakeFiles } from './make-files.tsx';
import { cutSoFarWords } from './step-words.ts';
import { useCut } from './use-cut.ts';
import { useStillSo } from './use-still-so.ts';
import { useCutting } from './use-cutting.ts';

/** The cutting of a run: its files are made and proven, and cut roll by roll. */
export function RunCutting({
  run,
  shop,
  hasFiles,
}: {
  run: OpenRunFile;
  shop: Shop;
  /** Whether there is a folder of the run at all. */
  hasFiles: boolean;
}): JSX.Element {
  const cut = useCut(run);
  const isCutting = cut.state?.isUnderWay === true;
  const findings = [...cut.refused, ...(cut.state?.findings ?? [])];
  const folder = useLoaded(
    async () => (hasFiles ? calls.runFolder(run.name) : null),
    [run.name, hasFiles, cut.ended, run.file?.version, run.connection],
  );
  useStillSo(isCutting ? null : folder.value, folder.reload);
  const cutting = useCutting(
    run.name,
    folder.value?.fingerprint ?? null,
    run.onEvent,
    run.connection,
  );
  return (
    <CuttingPlace
      folder={folder.value}
      shop={shop}
      cutting={cutting}
      isWaiting={folder.isLoading}
      isMaking={isCutting}
      papersAt={addressOf('run', run.name, 'papers')}
      making={
        <>
          {folder.value === null && !folder.isLoading && !isCutting && <Unmade />}
          <MakeFiles
            name={run.name}
            folder={folder.value}
            cutSoFar={cutSoFarWords(cutting.marks?.ticks ?? [])}
            cut={cut}
          />
          <Findings findings={[...errorsOf(findings), ...folder.findings]} />
          {!isCutting && <Warnings findings={findings} />}
        </>
      }
    />
  );
}

function Unmade(): JSX.Element {
  return (
    <>
      <h2 class="step-title">Make the files</h2>
      <p class="step-line">
        The knife’s way is planned, programs and papers are written and read back. Then each roll is
        cut from here, step by step.
      </p>
    </>
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
