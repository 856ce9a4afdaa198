import type { JSX } from 'preact';
import { useEffect } from 'preact/hooks';

/** The way back and forth through what was done, by buttons and by Ctrl+Z. */
export function BackAndForth({
  undo,
  redo,
  onUndo,
  onRedo,
}: {
  /** What would be undone, and done again, in words; null: there is nothing. */
  readonly undo: string | null;
  readonly redo: string | null;
  readonly onUndo: () => void;
  readonly onRedo: () => void;
}): JSX.Element {
  const keys = (event: KeyboardEvent): void => {
    const key = event.key.toLowerCase();
    if (!(event.ctrlKey || event.metaKey) || !['z', 'y'].includes(key)) return;
    if (isTypedIn(event.target)) return;
    event.preventDefault();
    if (event.shiftKey || key === 'y') onRedo();
    else onUndo();
  };
  useEffect(() => {
    addEventListener('keydown', keys);
    return () => removeEventListener('keydown', keys);
  });
  return (
    <div class="actions">
      <span class="quiet">{undo === null ? '' : `Last: ${undo}`}</span>
      <Step words="Undo" does={undo} onClick={onUndo} />
      <Step words="Redo" does={redo} onClick={onRedo} />
    </div>
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
