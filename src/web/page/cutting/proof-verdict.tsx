import type { JSX } from 'preact';
import type { RunFolder } from '../../api/files.ts';
import { Findings } from '../controls/findings.tsx';
import { capital, olderWords } from '../words.ts';

/** What the proof says, or that the files are older than the run: to be read from across the room. */
export function ProofVerdict({ folder }: { folder: RunFolder }): JSX.Element {
  const { proven, changes, findings, fingerprint } = folder;
  const older = olderWords(changes);
  const isFit = proven && older === null;
  return (
    <section class={isFit ? 'verdict-box' : 'verdict-box failed'} aria-labelledby="verdict">
      <p class="verdict" id="verdict">
        <svg viewBox="0 0 24 24" aria-hidden="true">
          <path d={isFit ? 'M3 13l6 6L21 5' : 'M4 4l16 16M20 4L4 20'} />
        </svg>
        {older ?? (proven ? 'Proven' : 'Do not cut')}
      </p>
      {older !== null && (
        <>
          <p>
            These files are of the run as it was. No drawing, no program and no rehearsal of them is
            given: make the files anew.
          </p>
          <ChangeList changes={changes} />
        </>
      )}
      <p>
        {proofWords(folder)} Fingerprint {fingerprint}.
      </p>
      <Findings findings={findings} label="What the proof found" />
    </section>
  );
}

function proofWords({ proven, changes }: RunFolder): string {
  if (!proven) {
    return 'The files on the disk are not what was proven. No drawing and no program is given.';
  }
  return changes.length > 0
    ? 'They were proven against the lay that they were made for.'
    : 'The files were read back and agree with the lay: every part once, its hand, its pile, every cut closed.';
}

/** All that has changed, where the verdict names only the first. */
function ChangeList({ changes }: Pick<RunFolder, 'changes'>): JSX.Element | null {
  if (changes.length < 2) return null;
  return (
    <details>
      <summary>All that was changed ({changes.length})</summary>
      <ul>
        {changes.map((words) => (
          <li>{capital(words)}.</li>
        ))}
      </ul>
    </details>
  );
}
