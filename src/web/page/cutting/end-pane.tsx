import type { JSX } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import type { RunFolder } from '../../api/files.ts';
import type { Shop } from '../../api/shop.ts';
import { folderAddress } from './folder-address.ts';
import { Recuts } from './recuts.tsx';

/** All rolls of a run are cut: what comes next, and for whom. */
export function EndPane({
  folder,
  shop,
  onAgain,
}: {
  folder: RunFolder;
  shop: Shop | null;
  onAgain: () => void;
}): JSX.Element {
  const title = useRef<HTMLHeadingElement>(null);
  useEffect(() => title.current?.focus(), []);
  const { recutOf, lays } = folder;
  const parts = lays.reduce((sum, { placements }) => sum + placements.length, 0);
  return (
    <div class="step-pane scrolls">
      <h2 class="step-title" ref={title} tabIndex={-1}>
        All of it is cut
      </h2>
      <p class="step-first">
        {parts === 1 ? 'The part is there.' : `All ${parts} parts are there.`}
      </p>
      <p class="step-line">
        To the bench with the sewing sheets, and to whoever packs with the fitting sheets: see the
        papers.
      </p>
      <Recuts folder={folder} shop={shop} />
      <div class="actions">
        {recutOf !== null && (
          <a class="button accent large" href={folderAddress(recutOf, shop)}>
            Back to {recutOf}
          </a>
        )}
        <a class={recutOf === null ? 'button accent large' : 'button large'} href="#/">
          To all runs
        </a>
        <button class="button" onClick={onAgain}>
          Cut all of it once more
        </button>
      </div>
    </div>
  );
}
