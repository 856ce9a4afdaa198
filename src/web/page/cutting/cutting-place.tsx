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
 * Where a run folder is cut: the desk, and papers below it that are nowhere else. Of files that must not be cut the verdict stands in
 * its place.
 */
export function CuttingPlace({
  folder,
  shop,
  cutting,
  making,
  papersAt,
  children,
}: {
  folder: RunFolder;
  shop: Shop | null;
  cutting: OpenCutting;
  /** What makes the files anew. */
  making: ComponentChildren;
  /** Where the papers are; null: below the desk. */
  papersAt: string | null;
  /** What stands below the desk besides. */
  children?: ComponentChildren;
}): JSX.Element {
  const below = useRef<HTMLDivElement>(null);
  const isFit = folder.proven && folder.changes.length === 0;
  return (
    <>
      {isFit ? (
        <CuttingDesk folder={folder} shop={shop} cutting={cutting}>
          {papersAt === null ? (
            <button class="button" onClick={() => goBelow(below.current)}>
              Papers, below
            </button>
          ) : (
            <a class="button" href={papersAt}>
              Papers
            </a>
          )}
          <ProvenLine folder={folder} />
        </CuttingDesk>
      ) : (
        <div class="cutting-below">
          <ProofVerdict folder={folder} />
          {making}
        </div>
      )}
      <div class="cutting-below" ref={below} tabIndex={-1}>
        {children}
        {papersAt === null && <Papers folder={folder} />}
        {isFit && making}
      </div>
    </>
  );
}

/** Papers stand below the desk, which fills the window: the view goes there, and the keyboard with it. */
function goBelow(below: HTMLElement | null): void {
  below?.scrollIntoView();
  below?.focus({ preventScroll: true });
}
