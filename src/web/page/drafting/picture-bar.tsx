import type { JSX } from 'preact';
import type { Spot } from '../../../drafting/edge-view.ts';

/** Buttons under a picture, and where the pointer is. */
export function PictureBar({
  spot,
  isFraming,
  onFraming,
  several = null,
  onFit,
  onZoom,
}: {
  readonly spot: Spot | null;
  readonly isFraming: boolean;
  /** null: nothing is framed in this picture. */
  readonly onFraming: ((on: boolean) => void) | null;
  /** Whether what is pressed is chosen besides the rest; left out: only one is chosen in this picture. */
  readonly several?: { readonly isOn: boolean; readonly onChange: (on: boolean) => void } | null;
  readonly onFit: () => void;
  readonly onZoom: (factor: number) => void;
}): JSX.Element {
  return (
    <div class="picture-bar">
      <button class="button" onClick={() => onZoom(1.4)} aria-label="Larger">
        +
      </button>
      <button class="button" onClick={() => onZoom(1 / 1.4)} aria-label="Smaller">
        −
      </button>
      <button class="button" onClick={onFit}>
        All of it
      </button>
      {onFraming !== null && (
        <button
          class="button"
          aria-pressed={isFraming}
          onClick={() => onFraming(!isFraming)}
          title="Draw a frame round several things to choose them"
        >
          Frame
        </button>
      )}
      {several !== null && (
        <button
          class="button"
          aria-pressed={several.isOn}
          onClick={() => several.onChange(!several.isOn)}
          title="Whatever you press is chosen besides the others, as with Shift"
        >
          Several
        </button>
      )}
      <span class="quiet figures-of-spot" aria-hidden="true">
        {spot === null ? '' : `${spot[0].toFixed(1)}, ${spot[1].toFixed(1)} mm`}
      </span>
    </div>
  );
}
