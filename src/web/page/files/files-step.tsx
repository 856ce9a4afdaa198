import type { JSX } from 'preact';
import type { Finding } from '../../../base/findings.ts';
import { Findings } from '../controls/findings.tsx';
import { calls } from '../server/calls.ts';
import { useLoaded } from '../use-loaded.ts';
import type { OpenRunFile } from '../use-run-file.ts';
import { FolderFiles } from './folder-files.tsx';
import { MakeFiles } from './make-files.tsx';
import { ProofVerdict } from './proof-verdict.tsx';
import { Rests } from './rests.tsx';
import { useCut } from './use-cut.ts';

/** The files of a run: made, proven, and given out. */
export function FilesStep({
  run,
  hasFiles,
}: {
  run: OpenRunFile;
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
  return (
    <>
      <MakeFiles name={run.name} folder={folder.value} cut={cut} />
      <Findings findings={[...errorsOf(findings), ...folder.findings]} />
      {folder.value !== null && !isCutting && (
        <>
          <ProofVerdict folder={folder.value} />
          <Warnings findings={findings} />
          <FolderFiles folder={folder.value} />
          <Rests folder={folder.value} />
        </>
      )}
      {folder.value === null && folder.isLoading && <p class="quiet">Proving what is there …</p>}
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
