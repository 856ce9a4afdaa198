import type { JSX } from 'preact';
import type { StepTick } from '../../api/cut-steps.ts';
import { beforeWords } from './step-words.ts';

/** What is ticked was cut from files made before: nothing is ticked of these before somebody begins anew. */
export function AnewPane({
  before,
  onBegin,
}: {
  before: readonly StepTick[];
  onBegin: () => void;
}): JSX.Element {
  return (
    <div class="step-pane scrolls">
      <h2 class="step-title">These are other files</h2>
      <p class="step-first">{beforeWords(before)}</p>
      <p class="step-line">
        If a roll that was begun is on the machine still, take it off, or cut it to its end with the
        program that the machine still has: these files have taken the place of that one. To cut
        these files, begin with the first roll. What was ticked stays in the file of marks.
      </p>
      <div class="actions">
        <button class="button accent large" onClick={onBegin}>
          Begin anew with these files
        </button>
      </div>
    </div>
  );
}
