import type { JSX } from 'preact';
import type { EarlierLay } from '../../api/lay.ts';
import { counted, metres } from '../words.ts';

/** The last lays of a cloth that searches have left, each with a way back to it. */
export function EarlierLays({
  lays,
  onBack,
}: {
  /** The newest first. */
  readonly lays: readonly EarlierLay[];
  /** null: nothing can be put back now. */
  readonly onBack: ((lay: EarlierLay) => void) | null;
}): JSX.Element | null {
  if (lays.length === 0) return null;
  return (
    <details class="earlier-lays">
      <summary>Earlier lays ({lays.length})</summary>
      <table>
        <thead>
          <tr>
            <th>Found</th>
            <th>Length</th>
            <th>Parts</th>
            <th />
          </tr>
        </thead>
        <tbody>
          {lays.map((lay) => (
            <tr key={lay.id}>
              <td>{new Date(lay.at).toLocaleString()}</td>
              <td class="number">{metres(lay.length)}</td>
              <td class="number">{counted(lay.parts, 'part')}</td>
              <td>
                <button class="button" disabled={onBack === null} onClick={() => onBack?.(lay)}>
                  Put it back
                </button>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
    </details>
  );
}
