import type { JSX } from 'preact';
import type { Finding } from '../../../base/findings.ts';
import { Findings } from '../controls/findings.tsx';
import { capital } from '../words.ts';

/** What is to be said about the lays of a run: one line for each matter, which opens to all of it. */
export function LayNotes({
  findings,
  unfit,
  faults,
  onSave,
}: {
  /** What came of the last thing that was done. */
  readonly findings: readonly Finding[];
  /** What seems to have no room, in sentences. */
  readonly unfit: readonly string[];
  /** Why parts can no longer lie where they lie. */
  readonly faults: readonly Finding[];
  /** Writes lays that are not in the run file; null: all are. */
  readonly onSave: (() => void) | null;
}): JSX.Element {
  const [first, ...more] = unfit;
  return (
    <div class="lay-notes">
      <Findings findings={findings} />
      {first !== undefined && (
        <section class="lay-note" role="status" aria-label="What does not fit">
          {more.length === 0 ? (
            <p>{capital(first)}</p>
          ) : (
            <details>
              <summary>
                {capital(first)} And {more.length} more.
              </summary>
              {more.map((words) => (
                <p>{capital(words)}</p>
              ))}
            </details>
          )}
        </section>
      )}
      {onSave !== null && (
        <section class="lay-note">
          <p>
            <strong>Not saved.</strong> What was found could not be written into the run file. It is
            kept as long as the server runs.{' '}
            <button class="button accent" onClick={onSave}>
              Save it now
            </button>
          </p>
        </section>
      )}
      {faults.length > 0 && (
        <details class="lay-note">
          <summary>
            <strong>What was laid no longer fits</strong> ({faults.length}): the roll, the orders or
            the patterns have changed since.
          </summary>
          <Findings findings={faults.slice(0, 12)} />
        </details>
      )}
    </div>
  );
}
