import type { JSX } from 'preact';
import type { RunFolder } from '../../api/files.ts';
import { fileAddress } from '../server/calls.ts';
import { olderWords } from '../words.ts';
import { papersOf } from './papers.ts';

/** The papers of a run, for everybody but the machine. */
export function FolderFiles({ folder }: { folder: RunFolder }): JSX.Element {
  const { name, changes } = folder;
  const older = olderWords(changes);
  return (
    <section class="pane" aria-labelledby="papers-title">
      <h2 id="papers-title">Papers</h2>
      {older !== null && (
        <p class="older">
          <strong>{older}</strong>
        </p>
      )}
      <p class="quiet">They open in a window of their own; what is to print comes at full size.</p>
      <ul class="files" role="list">
        {papersOf(folder).map(({ words, look, print, table }) => (
          <li>
            <span class="what">{words}</span>
            <span class="file-links">
              {look !== null && <PaperLink run={name} file={look} words="Look" of={words} />}
              {print !== null && <PaperLink run={name} file={print} words="Print" of={words} />}
              {table !== null && <PaperLink run={name} file={table} words="Table" of={words} />}
            </span>
          </li>
        ))}
      </ul>
    </section>
  );
}

function PaperLink({
  run,
  file,
  words,
  of,
}: {
  run: string;
  file: string;
  words: string;
  of: string;
}): JSX.Element {
  return (
    <a href={fileAddress(run, file)} target="_blank" rel="noopener" aria-label={`${words}: ${of}`}>
      {words}
    </a>
  );
}
