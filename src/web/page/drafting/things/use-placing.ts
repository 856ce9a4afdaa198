import { useEffect, useState } from 'preact/hooks';
import type { Spot } from '../../../../drafting/edge-view.ts';
import type { PieceView } from '../../../../drafting/view.ts';
import type { SentEdit } from '../../server/calls.ts';
import type { ToChoose } from '../use-asking.ts';
import type { Placing } from './placing.ts';
import { additionAt, placesNeeded } from './placing.ts';

/** Something that is being added to the piece that is shown, place by place. */
export interface BeingPlaced {
  /** null: nothing is. */
  readonly placing: Placing | null;
  readonly setPlacing: (placing: Placing | null) => void;
  /** Takes the next place of it; with the last one it is added. */
  readonly placeAt: (at: Spot) => void;
  /** Adds something whose places are known, and chooses it. */
  readonly add: (one: Placing) => void;
}

export function usePlacing(
  piece: PieceView | null,
  edit: (edit: SentEdit) => Promise<boolean>,
  chooseOn: (next: ToChoose) => void,
): BeingPlaced {
  const [placing, setPlacing] = useState<Placing | null>(null);
  useEffect(() => setPlacing(null), [piece?.name]);
  const add = (one: Placing): void => {
    if (piece === null) return;
    setPlacing(null);
    // It comes last.
    chooseOn({ piece: piece.name, chosen: { kind: 'things', things: [piece.things.length] } });
    void edit(additionAt(piece, one));
  };
  const placeAt = (at: Spot): void => {
    if (placing === null) return;
    const next = { ...placing, points: [...placing.points, at] };
    if (next.points.length < placesNeeded(next.kind)) setPlacing(next);
    else add(next);
  };
  return { placing, setPlacing, placeAt, add };
}
