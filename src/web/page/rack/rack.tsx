import type { ComponentChildren, JSX } from 'preact';
import { Swatch } from '../controls/swatch.tsx';
import type { RackedRoll } from './racked-roll.ts';

const signs: Readonly<Record<RackedRoll['tone'], string>> = {
  waits: '○',
  busy: '◐',
  open: '!',
  done: '✓',
};

/** The rolls of a run, one of which somebody works on. */
export function Rack({
  label,
  rolls,
  chosen,
  onChoose,
  children,
}: {
  readonly label: string;
  readonly rolls: readonly RackedRoll[];
  /** The key of a roll. */
  readonly chosen: string;
  readonly onChoose: (key: string) => void;
  /** What stands below the rolls where there is room. */
  readonly children?: ComponentChildren;
}): JSX.Element {
  return (
    <nav class="rack" aria-label={label}>
      <ul role="list">
        {rolls.map(({ key, words, sample, state, tone, share }) => (
          <li>
            <button
              class={`one-of-list racked ${tone}`}
              aria-current={key === chosen ? 'true' : undefined}
              onClick={() => onChoose(key)}
            >
              <span class="racked-name">
                <Swatch sample={sample} />
                {words}
              </span>
              <span class="racked-state">
                <span aria-hidden="true">{signs[tone]} </span>
                {state}
              </span>
              {share !== undefined && (
                <span class="racked-share" aria-hidden="true">
                  <span style={{ width: `${Math.round(share * 100)}%` }} />
                </span>
              )}
            </button>
          </li>
        ))}
      </ul>
      {children}
    </nav>
  );
}
