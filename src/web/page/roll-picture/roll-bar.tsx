import type { ComponentChildren } from 'preact';
import type { Point } from '../../../geometry/paths/point.ts';
import type { PartOnRoll } from './places/placing.ts';
import { partWords, spotWords } from './places/walk.ts';

/**
 * The bar below the picture: which way the pile leans, where the pointer is and what is there, and
 * buttons to zoom.
 */
export function RollBar({
  spot,
  below,
  hasPile,
  strip,
  isInRows,
  onRows,
  onCloser,
  onFarther,
  onFit,
}: {
  readonly spot: Point | null;
  readonly below: PartOnRoll | null;
  readonly hasPile: boolean;
  /** The whole lay in little; false: there is none. */
  readonly strip: ComponentChildren;
  readonly isInRows: boolean;
  /** Sets the roll out in rows, or as one band; null: it always is one band. */
  readonly onRows: ((inRows: boolean) => void) | null;
  readonly onCloser: () => void;
  readonly onFarther: () => void;
  readonly onFit: () => void;
}) {
  return (
    <div class="roll-bar">
      {hasPile && <PileArrow />}
      {strip}
      <output class="roll-readout" aria-live="off">
        {spot === null ? '' : spotWords(spot)}
        {below !== null && <strong>{partWords(below.part)}</strong>}
      </output>
      {onRows !== null && (
        <button
          type="button"
          class="roll-button"
          aria-pressed={isInRows}
          onClick={() => onRows(!isInRows)}
        >
          Rows
        </button>
      )}
      <button type="button" class="roll-button" aria-label="Farther away" onClick={onFarther}>
        <Sign d="M3 8H13" />
      </button>
      <button type="button" class="roll-button" aria-label="Closer" onClick={onCloser}>
        <Sign d="M3 8H13M8 3V13" />
      </button>
      <button
        type="button"
        class="roll-button"
        aria-label="Fit: show the whole lay"
        onClick={onFit}
      >
        Fit
      </button>
    </div>
  );
}

function Sign({ d }: { readonly d: string }) {
  return (
    <svg viewBox="0 0 16 16" width="16" height="16" aria-hidden="true">
      <path d={d} fill="none" stroke="currentColor" stroke-width="2" />
    </svg>
  );
}

function PileArrow() {
  return (
    <div class="roll-pile">
      pile leans
      <svg viewBox="0 0 48 12" width="48" height="12" role="img" aria-label="to the right">
        <path d="M1 6H45M38 1L46 6L38 11" fill="none" stroke="currentColor" stroke-width="2" />
      </svg>
    </div>
  );
}
