import type { JSX } from 'preact';
import { useEffect } from 'preact/hooks';
import type { DraftHead } from '../../../drafting/view.ts';
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
  const keys = (event: KeyboardEvent): void => {
    if (!(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== 'z') return;
    if (isTypedIn(event.target)) return;
    event.preventDefault();
    void (event.shiftKey ? draft.redo() : draft.undo());
  };
  useEffect(() => {
    addEventListener('keydown', keys);
    return () => removeEventListener('keydown', keys);
  });
  return (
    <header class="drafting-head">
      <h1>{said.title}</h1>
      <p class="quiet">
        {said.drawn}, {counted(pieces.length, 'piece')}, patterns/{name}
      </p>
      <div class="actions">
        <span class="quiet">{undo === null ? '' : `Last: ${undo}`}</span>
        <Step words="Undo" does={undo} onClick={() => void draft.undo()} />
        <Step words="Redo" does={redo} onClick={() => void draft.redo()} />
      </div>
    </header>
  );
}

function Step({
  words,
  does,
  onClick,
}: {
  readonly words: string;
  /** What it would undo or do again; null: there is nothing. */
  readonly does: string | null;
  readonly onClick: () => void;
}): JSX.Element {
  return (
    <button class="button" disabled={does === null} title={does ?? undefined} onClick={onClick}>
      {words}
    </button>
  );
}

/** Whether somebody types there, so that Ctrl+Z takes back what was typed. */
function isTypedIn(target: EventTarget | null): boolean {
  if (target instanceof HTMLTextAreaElement) return true;
  return target instanceof HTMLInputElement && !['radio', 'checkbox'].includes(target.type);
}
