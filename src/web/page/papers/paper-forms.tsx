import type { JSX } from 'preact';
import type { RunFolder } from '../../api/files.ts';
import { fileAddress } from '../server/calls.ts';
import { papersOf } from './forms.ts';

/** Each paper by itself: to look at on the screen, to print, or as a table. */
export function PaperForms({ folder }: { folder: RunFolder }): JSX.Element {
  return (
    <details>
      <summary>Each by itself: on the screen, to print, as a table</summary>
      <ul class="files" role="list">
        {papersOf(folder).map(({ words, look, print, table }) => (
          <li>
            <span class="what">{words}</span>
            <span class="file-links">
              {look !== null && <PaperLink run={folder.name} file={look} words="Look" of={words} />}
              {print !== null && (
                <PaperLink run={folder.name} file={print} words="Print" of={words} />
              )}
              {table !== null && (
                <PaperLink run={folder.name} file={table} words="Table" of={words} />
              )}
            </span>
          </li>
        ))}
      </ul>
    </details>
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
