import type { JSX } from 'preact';
import { addressOf } from '../address.ts';
import { Findings } from '../controls/findings.tsx';
import { calls } from '../server/calls.ts';
import { useLoaded } from '../use-loaded.ts';
import type { OpenRunFile } from '../use-run-file.ts';
import { Papers } from './papers.tsx';

/** The papers of a run, for those who do not stand at the machine. */
export function PapersPlace({
  run,
  hasFiles,
}: {
  readonly run: OpenRunFile;
  /** Whether there is a folder of the run at all. */
  readonly hasFiles: boolean;
}): JSX.Element {
  const folder = useLoaded(
    async () => (hasFiles ? calls.runFolder(run.name) : null),
    [run.name, hasFiles, run.file?.version, run.connection],
  );
  if (!hasFiles) {
    return (
      <p>
        Papers are made with the files:{' '}
        <a href={addressOf('run', run.name, 'cutting')}>make them under Cutting</a> first.
      </p>
    );
  }
  return (
    <>
      <Findings findings={folder.findings} />
      {folder.value === null && folder.isLoading && <p class="quiet">Proving what is there …</p>}
      {folder.value !== null && <Papers folder={folder.value} />}
    </>
  );
}
