import type { JSX } from 'preact';
import type { SetCheck } from '../../api/sets.ts';
import { Findings } from '../controls/findings.tsx';
import { calls } from '../server/calls.ts';
import { useLoaded } from '../use-loaded.ts';

/** A set by itself: what the check finds, beside the pieces that it finds it on. */
export function SetView({ name }: { name: string }): JSX.Element {
  const { value, findings, isLoading, reload } = useLoaded(() => calls.checkSet(name), [name]);
  return (
    <div class="view">
      <div class="title-row">
        <h1>{value?.title ?? name}</h1>
        <button class="button" onClick={reload}>
          Check again
        </button>
      </div>
      <Findings findings={findings} />
      {isLoading && <p class="quiet">Checking both hands of drive …</p>}
      {value !== null && <p role="status">Check of the set: {value.total}.</p>}
      {value !== null && (
        <img
          class="paper"
          src={`data:image/svg+xml,${encodeURIComponent(value.edges)}`}
          alt="How edges are drawn: bound, seam, tuck, turned, raw, and not said yet"
        />
      )}
      {value !== null && <CheckCards groups={value.groups} />}
      {value !== null && value.sound.length > 0 && (
        <section class="pane" aria-labelledby="sound-title">
          <h2 id="sound-title">Pieces as they are drawn</h2>
          <ul class="piece-cards" role="list">
            {value.sound.map(({ piece, svg }) => (
              <li class="card">
                <h3>{piece}</h3>
                <img
                  class="paper"
                  src={`data:image/svg+xml,${encodeURIComponent(svg)}`}
                  alt={`${piece} as drawn`}
                />
              </li>
            ))}
          </ul>
        </section>
      )}
    </div>
  );
}

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
