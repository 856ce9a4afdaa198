import type { StretchView } from '../../../drafting/edge-view.ts';
import type { PieceView, ThingView } from '../../../drafting/view.ts';
import type { Role } from '../../../pattern/layers.ts';
import { partsOf } from '../meaning-parts.ts';
import type { SentEdit } from '../server/calls.ts';

/**
 * A piece as it will be shown after an edit, as far as the edit itself says it: what somebody chose is seen at once,
 * while the server does it. The piece itself where nothing of it is plain.
 */
export function foreseen(piece: PieceView, edit: SentEdit): PieceView {
  if (edit.kind === 'mean') {
    const named = [edit, ...(edit.also ?? [])].filter(({ block }) => block === piece.block);
    const chosen = new Set(named.flatMap(({ things }) => things));
    if (chosen.size === 0) return piece;
    const things = piece.things.map((one) =>
      chosen.has(one.index) ? meaning(one, edit.means) : one,
    );
    return { ...piece, things };
  }
  if (edit.kind === 'edge' && edit.piece === piece.name && edit.edge !== null) {
    const finish = { kind: edit.edge, saidBy: 'trace', hiddenBy: edit.under ?? null } as const;
    const isChosen = ({ from, to }: StretchView): boolean =>
      edit.stretches.some((one) => one.from === from && one.to === to);
    const stretches = piece.stretches.map((one) => (isChosen(one) ? { ...one, ...finish } : one));
    return { ...piece, stretches };
  }
  return piece;
}

function meaning(thing: ThingView, means: string): ThingView {
  return { ...thing, means, role: partsOf(means).role as Role, guesses: [], alike: null };
}
