import { useState } from 'preact/hooks';
import type { RunNaming } from '../../../drafting/runs-naming.ts';
import type { SentEdit } from '../server/calls.ts';
import type { OpenDraft } from './use-draft.ts';

/** An edit that is not done before somebody says so: runs speak of the piece whose name it takes away. */
export interface HeldEdit {
  readonly piece: string;
  /** What the piece is called after it; null: there is no such piece any more. */
  readonly to: string | null;
  readonly runs: readonly RunNaming[];
  readonly answer: (isWanted: boolean) => void;
}

/** A draft whose edits are held where they would take away a name that runs speak of. */
export function useHeldEdit(draft: OpenDraft): { draft: OpenDraft; held: HeldEdit | null } {
  const [held, setHeld] = useState<HeldEdit | null>(null);
  const edit = async (one: SentEdit): Promise<boolean> => {
    const piece = nameTakenBy(one);
    if (piece === null) return draft.edit(one);
    const runs = await draft.runsNaming(piece);
    if (runs === null) return false;
    if (runs.length === 0) return draft.edit(one);
    held?.answer(false);
    return new Promise((resolve) => {
      const answer = (isWanted: boolean): void => {
        setHeld(null);
        resolve(isWanted ? draft.edit(one) : false);
      };
      setHeld({ piece, to: one.kind === 'rename' ? one.to : null, runs, answer });
    });
  };
  return { draft: { ...draft, edit }, held };
}

/** The piece that there is no more under its name after an edit; null: all pieces keep theirs. */
function nameTakenBy(edit: SentEdit): string | null {
  switch (edit.kind) {
    case 'rename':
    case 'drop-piece':
      return edit.piece;
    case 'pair':
      return edit.other;
    default:
      return null;
  }
}
