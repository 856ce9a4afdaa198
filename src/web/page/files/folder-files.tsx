import type { JSX } from 'preact';
import type { Folder, FolderFile } from '../../api.ts';
import { fileAddress } from '../server.ts';
import { rollName } from '../shared/words.ts';

const words: Readonly<Record<FolderFile['what'], string>> = {
  dry: 'Dry program, knife up: run this first',
  program: 'Program',
  bite: 'Program of one bite',
  drawing: 'Drawing (DXF)',
  sheet: 'Sheet for the operator',
  labels: 'Labels',
  paper: 'Paper',
  picture: 'Picture',
  record: 'Record of the run',
};

/** What the machine needs, roll by roll, and the papers for everybody else. */
export function FolderFiles({ folder }: { folder: Folder }): JSX.Element {
  const { name, files, lays, proven } = folder;
  const ofRoll = (key: string): FolderFile[] =>
    (['dry', 'program', 'drawing', 'bite'] as const).flatMap((what) =>
      files.filter((file) => file.of === key && file.what === what && file.offered),
    );
  const papers = files.filter(({ what }) => ['sheet', 'labels', 'paper', 'picture'].includes(what));
  return (
    <div class="two-panes even">
      <section class="pane" aria-labelledby="machine-title">
        <div class="title-row">
          <h2 id="machine-title">For the machine</h2>
          {proven && (
            <a class="button" href={fileAddress(name)} download={`${name}.zip`}>
              All in one (zip)
            </a>
          )}
        </div>
        {!proven && <p>Nothing is offered while the proof fails.</p>}
        {proven &&
          lays.map((lay) => {
            const key = rollName({ material: lay.material, name: lay.roll });
            return (
              <section aria-label={key}>
                <h3>{key}</h3>
                <ul class="files" role="list">
                  {ofRoll(key).map((file) => (
                    <li>
                      <a href={fileAddress(name, file.name)} download={file.name}>
                        {words[file.what]}
                      </a>
                      <span class="quiet">
                        {file.name}, {sizeWords(file.size)}
                      </span>
                    </li>
                  ))}
                </ul>
              </section>
            );
          })}
        <p class="caution">
          A cutting file is not a safety function. Guards closed, hands clear; stop and isolate the
          machine before touching a blade. The machine’s manual and local rules come first.
        </p>
      </section>
      <section class="pane" aria-labelledby="papers-title">
        <h2 id="papers-title">Papers</h2>
        <p class="quiet">
          PDFs are for printing at full size; pages open in a window of their own.
        </p>
        <ul class="files" role="list">
          {papers.map((file) => (
            <li>
              <a href={fileAddress(name, file.name)} target="_blank" rel="noopener">
                {paperWords(file)}
              </a>
              <span class="quiet">
                {file.name}, {sizeWords(file.size)}
              </span>
            </li>
          ))}
        </ul>
      </section>
    </div>
  );
}

function paperWords({ name, what, of }: FolderFile): string {
  const form = name.endsWith('.pdf') ? ', to print' : name.endsWith('.csv') ? ', as a table' : '';
  if (name.startsWith('sewing-')) return `Sewing sheet of order ${of ?? ''}${form}`;
  if (name.startsWith('fitting-')) return `Fitting sheet of order ${of ?? ''}${form}`;
  if (name.startsWith('cost.')) return `Cost${form}`;
  if (name.startsWith('parts.')) return `Parts${form}`;
  if (name.startsWith('binding.')) return `Binding tape${form}`;
  if (what === 'picture') return `Picture of ${of ?? name}`;
  return `${words[what]}${form}`;
}

function sizeWords(bytes: number): string {
  return bytes < 1e6 ? `${Math.ceil(bytes / 1e3)} kB` : `${(bytes / 1e6).toFixed(1)} MB`;
}
