import type { JSX } from 'preact';
import type { SetCheck } from '../../api/sets.ts';

const signs = { error: 'Stops', warning: 'Look', note: 'Note' } as const;

/**
 * A card for each piece on which something was found: its picture with numbered rings, and the words
 * for each number.
 */
export function CheckCards({ groups }: { groups: SetCheck['groups'] }): JSX.Element | null {
  if (groups.length === 0) return null;
  return (
    <ul class="check-cards" role="list">
      {groups.map(({ piece, svg, findings }) => (
        <li class="card check-card">
          <h3>{piece ?? 'The set as a whole'}</h3>
          {svg !== null && (
            <img
              class="paper"
              src={`data:image/svg+xml,${encodeURIComponent(svg)}`}
              alt={`${piece ?? 'piece'} as drawn, what was found on it in numbered rings`}
            />
          )}
          <ul class="findings" role="list">
            {findings.map(({ number, severity, words }) => (
              <li class={`finding ${severity}`}>
                <strong>
                  {number} {signs[severity]}
                </strong>
                <span>{words}</span>
              </li>
            ))}
          </ul>
        </li>
      ))}
    </ul>
  );
}
