import type { JSX } from 'preact';
import { calls } from '../../server/calls.ts';
import { useLoaded } from '../../use-loaded.ts';
import { HandPictures } from './hand-pictures.tsx';

/** The whole piece as RHD and LHD get it. */
export function BothHandsPane({
  set,
  version,
  piece,
}: {
  readonly set: string;
  readonly version: string;
  readonly piece: string;
}): JSX.Element {
  const asked = { piece, things: [], follows: [null] };
  const { value } = useLoaded(() => calls.draftHands(set, asked), [set, version, piece]);
  const both = value?.hands[0];
  return (
    <section class="pane" aria-labelledby="hands-title">
      <h3 id="hands-title">Both hands</h3>
      {both === undefined ? (
        <p class="quiet">Not to be seen before its outline and layers can be read.</p>
      ) : (
        <HandPictures both={both} />
      )}
    </section>
  );
}
