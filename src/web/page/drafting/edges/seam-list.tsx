import type { JSX } from 'preact';
import type { SeamView } from '../../../../drafting/seam-view.ts';
import { fitWords, seenFrom, verdictOf } from './seam-words.ts';

/** The seams of a set, or of one piece, with how each fits. */
export function SeamList({
  seams,
  piece,
  onOpen,
}: {
  readonly seams: readonly SeamView[];
  /** null: all of the set. */
  readonly piece: string | null;
  readonly onOpen: (seam: SeamView) => void;
}): JSX.Element | null {
  const own = seams
    .filter(({ join }) => piece === null || join.some((ref) => ref.split('/')[0] === piece))
    .map((seam) => (piece === null ? seam : seenFrom(seam, piece)));
  if (own.length === 0) return null;
  return (
    <section class="pane" aria-labelledby="seams-title">
      <h3 id="seams-title">Seams</h3>
      <ul class="thing-list" role="list">
        {own.map((seam) => (
          <li>
            <button class={`thing-line seam-line ${verdictOf(seam)}`} onClick={() => onOpen(seam)}>
              <span>
                <strong>{verdictOf(seam)}:</strong> {seam.join.join(' – ')}
              </span>
              <span class="quiet">
                {seam.fits[0] === undefined ? seam.findings[0]?.message : fitWords(seam.fits[0])}
              </span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}
