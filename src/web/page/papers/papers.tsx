import type { JSX } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { RunFolder } from '../../api/files.ts';
import type { RunPaper, RunPapers } from '../../api/papers.ts';
import { Choices, Tick } from '../controls/fields.tsx';
import { Findings } from '../controls/findings.tsx';
import { withOrWithout } from '../with-or-without.ts';
import { calls, printAddress } from '../server/calls.ts';
import { useLoaded } from '../use-loaded.ts';
import { capital, counted, olderWords } from '../words.ts';
import type { PrintChoice } from './choice.ts';
import {
  everything,
  ordersIn,
  pagesOfPaper,
  paperWords,
  printedPages,
  printQuery,
  readersIn,
  wantedPapers,
} from './choice.ts';
import { LabelChoice } from './label-choice.tsx';
import { PaperForms } from './paper-forms.tsx';
import { Preview } from './preview.tsx';

/** All papers of a run: what is printed is chosen, looked at, and printed in one. */
export function Papers({ folder }: { folder: RunFolder }): JSX.Element {
  const { name, fingerprint, changes } = folder;
  const { value, findings, isLoading } = useLoaded(() => calls.papers(name), [name, fingerprint]);
  const older = olderWords(changes);
  return (
    <section class="pane papers" aria-labelledby="papers-title">
      <h2 id="papers-title">Papers</h2>
      {older !== null && (
        <p class="older">
          <strong>{older}</strong>
        </p>
      )}
      <Findings findings={findings} />
      {value === null && isLoading && <p class="quiet">Counting pages …</p>}
      {value !== null && <Printing key={fingerprint} folder={folder} papers={value} />}
      <PaperForms folder={folder} />
    </section>
  );
}

function Printing({ folder, papers }: { folder: RunFolder; papers: RunPapers }): JSX.Element {
  const [choice, setChoice] = useState(() => everything(papers));
  const [shown, setShown] = useState(0);
  const pages = printedPages(papers, choice);
  const last = Math.max(0, pages.length - 1);
  useEffect(() => setShown((page) => Math.min(page, last)), [last]);
  const change = (part: Partial<PrintChoice>): void => setChoice({ ...choice, ...part });
  const query = printQuery(papers, choice);
  const page = Math.min(shown, last);
  return (
    <div class="papers-room">
      <div class="papers-choice">
        <Wanted papers={papers} choice={choice} change={change} />
        <PaperList
          papers={papers}
          choice={choice}
          change={change}
          show={(name) => setShown(pages.findIndex(({ paper }) => paper.name === name))}
        />
        <p class="papers-sum" role="status">
          {pages.length === 0 ? 'Nothing is chosen.' : `${counted(pages.length, 'page')} in all`}
        </p>
        {pages.length > 0 && (
          <a
            class="button accent large"
            href={printAddress(folder.name, query)}
            target="_blank"
            rel="noopener"
          >
            Print {counted(pages.length, 'page')} in one
          </a>
        )}
        <p class="quiet">
          They open in a window of their own as one PDF. Print at full size, never fitted to the
          page.
        </p>
      </div>
      <Preview
        pages={pages}
        shown={page}
        address={printAddress(folder.name, { ...query, page: String(page + 1) })}
        show={setShown}
      />
    </div>
  );
}

interface ChoiceProps {
  readonly papers: RunPapers;
  readonly choice: PrintChoice;
  readonly change: (part: Partial<PrintChoice>) => void;
}

/** For whom, of which orders, and what stays together. */
function Wanted({ papers, choice, change }: ChoiceProps): JSX.Element {
  const orders = ordersIn(papers);
  return (
    <>
      <fieldset class="ticks">
        <legend>For whom</legend>
        {readersIn(papers).map((reader) => (
          <Tick
            label={capital(reader)}
            checked={choice.readers.has(reader)}
            onChange={(isIn) => change({ readers: withOrWithout(choice.readers, reader, isIn) })}
          />
        ))}
      </fieldset>
      {orders.length > 1 && (
        <>
          <fieldset class="ticks">
            <legend>Orders</legend>
            {orders.map((order) => (
              <Tick
                label={order}
                checked={choice.orders.has(order)}
                onChange={(isIn) => change({ orders: withOrWithout(choice.orders, order, isIn) })}
              />
            ))}
          </fieldset>
          <Choices
            label="Sorted"
            value={choice.sorted}
            choices={[
              { value: 'kind', words: 'Kind after kind' },
              { value: 'order', words: 'Order after order' },
            ]}
            onChange={(sorted) => change({ sorted })}
          />
        </>
      )}
    </>
  );
}

/** Each paper that is wanted, with its pages; one that is not to be printed is left out. */
function PaperList({
  papers,
  choice,
  change,
  show,
}: ChoiceProps & {
  /** Shows the first page of a paper, by its name. */
  readonly show: (name: string) => void;
}): JSX.Element {
  const row = (paper: RunPaper): JSX.Element => {
    const isIn = !choice.left.has(paper.name);
    const pages = pagesOfPaper(paper, papers, choice);
    return (
      <li>
        <div class="papers-row">
          <Tick
            label={paperWords(paper)}
            checked={isIn}
            onChange={(checked) =>
              change({ left: withOrWithout(choice.left, paper.name, !checked) })
            }
          />
          <span class="quiet">{counted(pages, 'page')}</span>
          <button
            class="button"
            aria-label={`Show ${paperWords(paper)}`}
            disabled={!isIn || pages === 0}
            onClick={() => show(paper.name)}
          >
            Show
          </button>
        </div>
        {paper.what === 'labels' && isIn && (
          <LabelChoice papers={papers} choice={choice} change={change} />
        )}
      </li>
    );
  };
  return (
    <ul class="papers-list" role="list" aria-label="What is printed">
      {wantedPapers(papers, choice).map(row)}
    </ul>
  );
}
