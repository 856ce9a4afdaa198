import { useEffect, useRef, useState } from 'preact/hooks';
import type { PieceView } from '../../../drafting/view.ts';
import type { Chosen } from './chosen.ts';
import { nothingChosen } from './chosen.ts';
import type { ToChoose } from './use-asking.ts';

/** What is chosen of the piece that is shown, and what is to be chosen where another is. */
export interface Choosing {
  readonly chosen: Chosen;
  readonly choose: (next: Chosen | ((before: Chosen) => Chosen)) => void;
  /** Chooses something of a piece as soon as that is shown. */
  readonly chooseOn: (next: ToChoose) => void;
}

const noneToChoose: ToChoose = { piece: null, chosen: nothingChosen };

export function useChosen(shown: string | null, piece: PieceView | null): Choosing {
  const [chosen, choose] = useState<Chosen>(nothingChosen);
  const [toChoose, chooseOn] = useState<ToChoose>(noneToChoose);
  const last = useRef({ shown, toChoose });
  useEffect(() => {
    const isOther = last.current.shown !== shown || last.current.toChoose !== toChoose;
    last.current = { shown, toChoose };
    const next = toChoose.piece === shown ? toChoose.chosen : nothingChosen;
    // What is chosen of the edge stays so while lines are drawn along it.
    choose((before) => (!isOther && before.kind === 'edges' ? before : next));
  }, [shown, piece?.things.length, toChoose]);
  return { chosen, choose, chooseOn };
}
