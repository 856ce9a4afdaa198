import type { ComponentChildren, JSX } from 'preact';
import { Swatch } from '../controls/swatch.tsx';

/** A roll as it stands in the rack. */
export interface RackedRoll {
  readonly key: string;
  /** What the roll is called. */
  readonly words: string;
  readonly sample: string | null;
  /** How it stands, in a few words. */
  readonly state: string;
  /** What wants to be looked at is told apart from what waits and from what is done. */
  readonly tone: 'waits' | 'busy' | 'open' | 'done';
  /** The share that is done, 0 to 1; left out: nothing is under way. */
  readonly share?: number;
}

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
              class={`racked ${tone}`}
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
