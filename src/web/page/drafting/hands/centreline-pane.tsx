import type { JSX } from 'preact';
import type { PieceView } from '../../../../drafting/view.ts';
import { NumberField } from '../../controls/fields.tsx';
import type { SentEdit } from '../../server/calls.ts';
import type { Placing } from '../things/placing.ts';

const pointed: Placing = {
  kind: 'centreline',
  figures: { diameter: 0, width: 0, height: 0, radius: 0, words: '' },
  points: [],
};

/** The vehicle’s centreline on a piece: where the outline is symmetrical, by a figure, or none. */
export function CentrelinePane({
  piece: { name, axis, outlineBox },
  isPlacing,
  onPlacing,
  onAnswer,
}: {
  readonly piece: PieceView;
  /** Whether two of its points are being pointed at. */
  readonly isPlacing: boolean;
  readonly onPlacing: (placing: Placing | null) => void;
  readonly onAnswer: (edit: SentEdit) => void;
}): JSX.Element {
  const [minX, minY, , maxY] = outlineBox;
  const isUpright = axis !== null && Math.abs(axis[0][0] - axis[1][0]) < 0.01;
  return (
    <details class="pane">
      <summary>Centreline{axis === null ? ': none' : ''}</summary>
      <div class="stack">
        <div class="actions">
          <button
            class="button"
            onClick={() => onAnswer({ kind: 'axis', piece: name, line: 'middle' })}
          >
            Where its outline is symmetrical
          </button>
          <button
            class="button"
            aria-pressed={isPlacing}
            onClick={() => onPlacing(isPlacing ? null : pointed)}
          >
            Point at two places of it
          </button>
          {axis !== null && (
            <button
              class="button"
              onClick={() => onAnswer({ kind: 'axis', piece: name, line: null })}
            >
              None
            </button>
          )}
        </div>
        <NumberField
          label="So far from the left end of the piece"
          value={isUpright ? axis[0][0] - minX : null}
          unit="mm"
          min={-10_000}
          max={10_000}
          optional
          onChange={(mm) => {
            if (mm === null) return;
            const x = minX + mm;
            onAnswer({
              kind: 'axis',
              piece: name,
              line: [
                [x, minY],
                [x, maxY],
              ],
            });
          }}
        />
      </div>
    </details>
  );
}
