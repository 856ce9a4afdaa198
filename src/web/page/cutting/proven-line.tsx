import type { JSX } from 'preact';
import type { RunFolder } from '../../api/files.ts';
import { Findings } from '../controls/findings.tsx';
import { counted } from '../words.ts';

/** That the files are proven, in a line: what the proof found is told on demand. */
export function ProvenLine({ folder }: { folder: RunFolder }): JSX.Element {
  const { fingerprint, findings } = folder;
  return (
    <section class="proven-line" aria-label="Proven">
      <p class="quiet">
        <strong>✓ Proven.</strong> Fingerprint {fingerprint}.
      </p>
      {findings.length > 0 && (
        <details>
          <summary>{counted(findings.length, 'finding')} of the proof</summary>
          <Findings findings={findings} label="What the proof found" />
        </details>
      )}
    </section>
  );
}
