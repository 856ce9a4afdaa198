import type { JSX } from 'preact';
import type { RunFolder } from '../../api/files.ts';
import { Findings } from '../controls/findings.tsx';

/** What the proof says, to be read from across the room. */
export function ProofVerdict({ folder }: { folder: RunFolder }): JSX.Element {
  const { proven, findings, fingerprint } = folder;
  return (
    <section class={proven ? 'verdict-box' : 'verdict-box failed'} aria-labelledby="verdict">
      <p class="verdict" id="verdict">
        <svg viewBox="0 0 24 24" aria-hidden="true">
          <path d={proven ? 'M3 13l6 6L21 5' : 'M4 4l16 16M20 4L4 20'} />
        </svg>
        {proven ? 'Proven' : 'Do not cut'}
      </p>
      <p>
        {proven
          ? 'The files were read back and agree with the lay: every part once, its hand, its pile, every cut closed.'
          : 'The files on the disk are not what was proven. No drawing and no program is given.'}{' '}
        Fingerprint {fingerprint}.
      </p>
      <Findings findings={findings} label="What the proof found" />
    </section>
  );
}
