import type { JSX } from 'preact';
import type { CutStep } from '../../api/cut-steps.ts';
import type { RollAtMachine } from './step-words.ts';
import { stepWords } from './step-words.ts';

/** All steps of a roll, ticked as far as they are done. Any of them can be looked at. */
export function Ladder({
  at,
  steps,
  ticked,
  shown,
  onLook,
}: {
  readonly at: RollAtMachine;
  readonly steps: readonly CutStep[];
  readonly ticked: ReadonlySet<CutStep>;
  readonly shown: CutStep | null;
  readonly onLook: (step: CutStep) => void;
}): JSX.Element {
  return (
    <nav class="ladder" aria-label="Steps of this roll">
      <ol role="list">
        {steps.map((step) => (
          <li>
            <button
              class={`one-of-list rung${ticked.has(step) ? ' done' : ''}`}
              aria-current={step === shown ? 'step' : undefined}
              onClick={() => onLook(step)}
            >
              <span aria-hidden="true">{ticked.has(step) ? '✓' : '○'}</span>
              {stepWords(step, at).name}
              {ticked.has(step) && <span class="unseen">, done</span>}
            </button>
          </li>
        ))}
      </ol>
    </nav>
  );
}
