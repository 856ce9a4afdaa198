import { useEffect, useState } from 'preact/hooks';
import type { Question } from '../../../../drafting/questions.ts';
import type { PieceView } from '../../../../drafting/view.ts';
import type { SentEdit } from '../../server/calls.ts';
import type { Chosen } from '../chosen.ts';
import type { Asking } from '../use-asking.ts';
import type { ShownStretch, StretchPart } from './shown-stretches.ts';
import { carriedOver } from './shown-stretches.ts';
import type { EdgesShown } from './use-edges.ts';

/** Answers about edges, one after the other. */
export interface EdgeAnswers {
  /** Does an edit of edges; where it answers the question, what is left of it is chosen, or the next is asked. */
  readonly edit: (edit: SentEdit) => Promise<boolean>;
  /** Goes on though nobody has said what hides the edge; null: nothing waits for that. */
  readonly pass: (() => void) | null;
}

/** An answer that was given, and the question that comes after it. */
interface Given {
  readonly reaches: readonly StretchPart[];
  readonly next: Question | undefined;
}

/** Asks on about the edges of the piece that is shown: not before it is said, or passed, what hides an edge. */
export function useEdgeAnswers(
  piece: PieceView | null,
  { stretches, chosen }: EdgesShown,
  { asked, open, go }: Asking,
  edit: (edit: SentEdit) => Promise<boolean>,
  onChoose: (chosen: Chosen) => void,
): EdgeAnswers {
  const shown = piece?.name ?? null;
  const [given, setGiven] = useState<Given | null>(null);
  useEffect(() => setGiven(null), [shown]);
  const incomplete = (given === null ? [] : stretchesIn(given.reaches, stretches, piece)).filter(
    (i) => isToBeHidden(stretches[i]!),
  );
  const goOn = ({ next }: Given): void => {
    setGiven(null);
    const undecided = stretches.flatMap(({ kind }, i) => (kind === null ? [i] : []));
    if (undecided.length > 0) onChoose({ kind: 'edges', edges: undecided });
    else if (next !== undefined) go(next);
  };
  useEffect(() => {
    if (given !== null && incomplete.length === 0) goOn(given);
  }, [given]);

  const nextOf = (question: Question): Question | undefined => open[open.indexOf(question) + 1];
  const isAskedHere = asked !== null && asked.piece === shown;
  return {
    edit: async (one) => {
      const isAnswer = given !== null || (isAskedHere && asked.rule === 'edge-not-claimed');
      const next = given === null ? (asked === null ? undefined : nextOf(asked)) : given.next;
      const done = await edit(one);
      if (!done || one.kind !== 'edge') return done;
      if (isAnswer) setGiven({ reaches: one.stretches, next });
      else if (isAskedHere && asked.rule === 'raw-on-show' && isHiddenNow(one) && next) go(next);
      return done;
    },
    pass: given !== null && incomplete.some((i) => chosen.includes(i)) ? () => goOn(given) : null,
  };
}

/** The stretches of a piece that lie where others lay when they were answered. */
function stretchesIn(
  reaches: readonly StretchPart[],
  stretches: readonly ShownStretch[],
  piece: PieceView | null,
): number[] {
  if (piece === null) return [];
  return carriedOver(reaches, [...reaches.keys()], stretches, piece.round);
}

/** Whether an edge of this kind must be hidden by something in the vehicle. */
function needsHiding(kind: ShownStretch['kind']): boolean {
  return kind === 'raw' || kind === 'tuck';
}

/** Whether something must hide a stretch in the vehicle, and nobody has said what. */
function isToBeHidden({ kind, hiddenBy }: ShownStretch): boolean {
  return needsHiding(kind) && (hiddenBy ?? '') === '';
}

/** Whether an edge is not on show any more: something hides it, or it is finished in itself. */
function isHiddenNow({ edge, under }: Extract<SentEdit, { kind: 'edge' }>): boolean {
  return needsHiding(edge) ? (under ?? '') !== '' : edge !== null;
}
