import type { ComponentChildren, JSX } from 'preact';
import { useRef } from 'preact/hooks';
import type { RunFolder } from '../../api/files.ts';
import type { Shop } from '../../api/shop.ts';
import { Papers } from '../papers/papers.tsx';
import { CuttingDesk } from './cutting-desk.tsx';
import { ProofVerdict } from './proof-verdict.tsx';
import { ProvenLine } from './proven-line.tsx';
import type { OpenCutting } from './use-cutting.ts';

/**
 * Where a run folder is cut: the desk, what makes its files below it, and papers that are nowhere else. Of files that must not be cut the
 * verdict stands in the place of the desk.
 */
export function CuttingPlace({
  folder,
  shop,
  cutting,
  isWaiting,
  isMaking = false,
  making,
  papersAt,
}: {
  /** null: there is none, or it is not known yet. */
  folder: RunFolder | null;
  shop: Shop | null;
  cutting: OpenCutting;
  /** Whether the folder is being read. */
  isWaiting: boolean;
  /** Whether its files are being made. */
  isMaking?: boolean;
  /** What makes the files. */
  making: ComponentChildren;
  /** Where the papers are; null: below. */
  papersAt: string | null;
}): JSX.Element {
  const papers = useRef<HTMLDivElement>(null);
  const shown = isMaking ? null : folder;
  const isFit = shown !== null && shown.proven && shown.changes.length === 0;
  // What makes the files keeps its place among what comes and goes, and so what it knows and the focus.
  return (
    <div class="cutting-place">
      {isFit ? (
        <CuttingDesk folder={shown} shop={shop} cutting={cutting}>
          {papersAt === null ? (
            <button class="button" onClick={() => goTo(papers.current)}>
              Papers, below
            </button>
          ) : (
            <a class="button" href={papersAt}>
              Papers
            </a>
          )}
          <ProvenLine folder={shown} />
        </CuttingDesk>
      ) : (
        <div class="cutting-below">
          {shown !== null ? (
            <ProofVerdict folder={shown} />
          ) : isMaking ? (
            <h2 class="step-title">The files are being made</h2>
          ) : (
            isWaiting && <p class="quiet">Reading and proving …</p>
          )}
        </div>
      )}
      <div class="cutting-below">{making}</div>
      {shown !== null && papersAt === null && (
        <div class="cutting-below" ref={papers} tabIndex={-1}>
          <Papers folder={shown} />
        </div>
      )}
    </div>
  );
}

/** The desk fills the window: the view goes to what stands below it, and the keyboard with it. */
function goTo(below: HTMLElement | null): void {
  below?.scrollIntoView();
  below?.focus({ preventScroll: true });
}
