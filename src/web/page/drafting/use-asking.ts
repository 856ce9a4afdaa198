import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { Question } from '../../../drafting/questions.ts';
import { addressOf } from '../address.ts';
import type { SentEdit } from '../server/calls.ts';
import type { Chosen } from './chosen.ts';
import { nothingChosen } from './chosen.ts';
import { isSettledBy } from './things/settled.ts';
import type { OpenDraft } from './use-draft.ts';

/** What is chosen when a piece is shown. */
export interface ToChoose {
  readonly piece: string | null;
  readonly chosen: Chosen;
}

/** The question that is asked, and the way from one to the next. */
export interface Asking {
  /** null: none is asked, or it was answered and what is open now is being looked for. */
  readonly asked: Question | null;
  /** What stops the set from being cut, in the order in which it is asked. */
  readonly open: readonly Question[];
  readonly go: (question: Question) => void;
  /** Does what answers a question, and goes on to the next. */
  readonly answer: (question: Question, edit: SentEdit) => Promise<void>;
}

/**
 * Asks one question after the other. What a question is about is named by places that hold for one version of
 * the files, so it is chosen only once the question is known of the files as they are now.
 */
export function useAsking(
  { name, questions, isChecking, pieces, edit }: OpenDraft,
  shown: string | null,
  onChoose: (toChoose: ToChoose) => void,
): Asking {
  const [askedId, setAskedId] = useState<string | null>(null);
  const open = useMemo(
    () => (questions ?? []).filter(({ severity }) => severity === 'error'),
    [questions],
  );
  const asked = useMemo(
    () => (questions ?? []).find(({ id }) => id === askedId) ?? null,
    [questions, askedId],
  );
  /** Whether what is asked about is still to be chosen, and its place among what was open. */
  const coming = useRef<{ readonly place: number } | null>(null);

  const go = (question: Question): void => {
    const isHere = !isChecking && question.id === askedId && question.piece === shown;
    coming.current = isHere ? null : { place: open.indexOf(question) };
    setAskedId(question.id);
    onChoose({
      piece: question.piece,
      chosen: isHere ? aboutQuestion(question) : nothingChosen,
    });
    location.hash = addressOf('sets', name, ...(question.piece === null ? [] : [question.piece]));
  };
  useEffect(() => {
    if (isChecking || coming.current === null) return;
    if (asked === null) {
      // It was settled with the one before it.
      const next = open[Math.min(Math.max(0, coming.current.place), open.length - 1)];
      coming.current = null;
      if (next !== undefined) go(next);
      return;
    }
    if (asked.piece !== shown) return;
    coming.current = null;
    onChoose({ piece: asked.piece, chosen: aboutQuestion(asked) });
  }, [isChecking, asked, askedId, shown]);

  const answer = async (question: Question, change: SentEdit): Promise<void> => {
    const all = (questions ?? []).filter(
      (one) =>
        one.severity === question.severity &&
        (one === question || !isSettledBy(one, change, pieces)),
    );
    const next = all[all.indexOf(question) + 1];
    if (!(await edit(change))) return;
    if (next !== undefined) go(next);
    else if (change.kind === 'drop-piece') location.hash = addressOf('sets', name);
  };
  return { asked, open, go, answer };
}

/** The things or stretches that a question is about. */
function aboutQuestion({ things, stretches }: Question): Chosen {
  if (stretches.length > 0) return { kind: 'edges', edges: stretches };
  return things.length === 0 ? nothingChosen : { kind: 'things', things };
}
