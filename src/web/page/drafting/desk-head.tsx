import type { JSX } from 'preact';
import type { DraftHead } from '../../../drafting/view.ts';
import { BackAndForth } from '../controls/back-and-forth.tsx';
import { counted } from '../words.ts';
import type { OpenDraft } from './use-draft.ts';

/** What set is on the desk, and the way back and forth through what was done to it; by Ctrl+Z too. */
export function DeskHead({
  head: { name, said, pieces, undo, redo },
  draft,
}: {
  readonly head: DraftHead;
  readonly draft: OpenDraft;
}): JSX.Element {
  return (
    <header class="drafting-head">
      <h1>{said.title}</h1>
      <p class="quiet">
        {said.drawn}, {counted(pieces.length, 'piece')}, patterns/{name}
      </p>
      <BackAndForth
        undo={undo}
        redo={redo}
        onUndo={() => void draft.undo()}
        onRedo={() => void draft.redo()}
      />
    </header>
  );
}
