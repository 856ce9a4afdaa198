import type { JSX } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { RunFolder } from '../../api/files.ts';
import type { Shop } from '../../api/shop.ts';
import { folderAddress } from './folder-address.ts';
import { Recuts } from './recuts.tsx';

/** All rolls of a run are cut: what comes next, and for whom. */
export function EndPane({
  folder,
  shop,
  isBooked,
  onAgain,
}: {
  folder: RunFolder;
  shop: Shop | null;
  /** Whether what is left of a roll was booked. */
  isBooked: boolean;
  onAgain: () => void;
}): JSX.Element {
  const [isAsked, setAsked] = useState(false);
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
        To the bench with the sewing sheets, and to whoever packs with the packing lists: see the
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
        {!isAsked && (
          <button class="button" onClick={() => (isBooked ? setAsked(true) : onAgain())}>
            Cut all of it once more
          </button>
        )}
      </div>
      {isAsked && (
        <>
          <p class="step-line">
            What is left of its rolls is booked. These files say how long the rolls were before
            that, and what they cut once more is booked by nobody: copy the run, and load the rolls
            as they are now.
          </p>
          <div class="actions">
            <button class="button accent large" onClick={() => setAsked(false)}>
              Leave it cut
            </button>
            <button class="button" onClick={onAgain}>
              Cut all of it once more with these files
            </button>
          </div>
        </>
      )}
    </div>
  );
}
