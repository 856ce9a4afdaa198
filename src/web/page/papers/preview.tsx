import type { JSX } from 'preact';
import { paperWords } from './choice.ts';
import type { PrintedPage } from './choice.ts';

/** How a viewer shows a page: whole, and without its own bars, as far as it knows such wishes. */
const fit = '#toolbar=0&navpanes=0&view=Fit&zoom=page-fit';

/** The pages as they will be printed, turned over one by one. */
export function Preview({
  pages,
  shown,
  address,
  show,
}: {
  pages: readonly PrintedPage[];
  /** The number of the page that is shown, from 0. */
  shown: number;
  /** The address of that page as a PDF. */
  address: string;
  show: (page: number) => void;
}): JSX.Element {
  const page = pages[shown];
  if (page === undefined) {
    return <p class="papers-preview quiet">Choose a paper, and its pages are shown here.</p>;
  }
  const words = `${paperWords(page.paper)}, page ${page.page} of ${page.of}`;
  return (
    <div class="papers-preview">
      <div class="papers-turn">
        <button class="button" disabled={shown === 0} onClick={() => show(shown - 1)}>
          Page before
        </button>
        <p role="status">
          <strong>
            Page {shown + 1} of {pages.length}
          </strong>
          <br />
          {words}
        </p>
        <button
          class="button"
          disabled={shown === pages.length - 1}
          onClick={() => show(shown + 1)}
        >
          Next page
        </button>
      </div>
      {navigator.pdfViewerEnabled ? (
        <iframe
          key={address}
          class="sheet-of-paper"
          style={{ '--wide': page.paper.width, '--high': page.paper.height }}
          src={address + fit}
          title={words}
          // Its page is seen whole: there is nothing in it to go to by keys.
          tabIndex={-1}
        />
      ) : (
        <p class="sheet-of-paper">
          This browser shows no PDF in a page.{' '}
          <a href={address} target="_blank" rel="noopener">
            Open this page
          </a>
        </p>
      )}
    </div>
  );
}
