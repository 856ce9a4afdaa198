import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { Spot } from '../../../../drafting/edge-view.ts';
import type { PieceView } from '../../../../drafting/view.ts';
import type { Chosen } from '../chosen.ts';
import { nothingChosen } from '../chosen.ts';
import { nearestAlong } from './path-along.ts';
import type { ShownStretch } from './shown-stretches.ts';
import { carriedOver, placeOnRound, shownStretches } from './shown-stretches.ts';

/** The edge of the piece that is shown, and what is chosen of it. */
export interface EdgesShown {
  readonly stretches: readonly ShownStretch[];
  readonly chosen: readonly number[];
  /** Whether the next click on the picture divides the stretch that is chosen. */
  readonly isPlacing: boolean;
  readonly setPlacing: (on: boolean) => void;
  /** Divides the stretch that is chosen, so many mm from its beginning, negative from its end. */
  readonly divide: (along: number) => void;
  /** Divides it where it is nearest to a spot. */
  readonly divideAt: (at: Spot) => void;
  /** Forgets where it was divided by hand. */
  readonly clear: () => void;
}

const noStretches: readonly ShownStretch[] = [];

/** Keeps what is chosen of an outline together with the outline, which every edit may divide anew. */
export function useEdges(
  piece: PieceView | null,
  chosen: Chosen,
  setChosen: (chosen: Chosen) => void,
): EdgesShown {
  const [cuts, setCuts] = useState<readonly number[]>([]);
  const [isPlacing, setPlacing] = useState(false);
  const edges = chosen.kind === 'edges' ? chosen.edges : [];
  const stretches = useMemo(
    () => (piece === null ? noStretches : shownStretches(piece, cuts)),
    [piece, cuts],
  );
  const last = useRef({ name: piece?.name ?? null, stretches, edges });
  useEffect(() => {
    setCuts([]);
    setPlacing(false);
  }, [piece?.name]);
  useEffect(() => setPlacing(false), [chosen]);
  useEffect(() => {
    const before = last.current;
    const isSame = before.name === piece?.name && before.edges === edges;
    if (isSame && before.stretches !== stretches && edges.length > 0) {
      const now = carriedOver(before.stretches, edges, stretches, piece!.round);
      if (now.join(' ') !== edges.join(' '))
        setChosen(now.length === 0 ? nothingChosen : { kind: 'edges', edges: now });
    }
    last.current = { name: piece?.name ?? null, stretches, edges };
  }, [piece?.name, stretches, chosen]);
  const own = edges.length === 1 ? stretches[edges[0]!] : undefined;
  const divide = (along: number): void => {
    if (own === undefined || piece === null) return;
    setCuts((before) => [...before, placeOnRound(own, along, piece.round)]);
    // The first of the parts is chosen.
    setChosen({ kind: 'edges', edges: [...edges] });
  };
  return {
    stretches,
    chosen: edges.filter((i) => i < stretches.length),
    isPlacing,
    setPlacing,
    divide,
    divideAt: (at) => {
      if (own !== undefined) divide(nearestAlong(own.d, at));
      setPlacing(false);
    },
    clear: () => setCuts([]),
  };
}
