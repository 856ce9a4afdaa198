import type { JSX } from 'preact';
import { Findings } from '../controls/findings.tsx';
import { DeskHead } from './desk-head.tsx';
import { DeskPanel } from './desk-panel.tsx';
import { DeskPicture } from './desk-picture.tsx';
import { PieceList } from './piece-list.tsx';
import { QuestionBar } from './question-bar.tsx';
import { wordsIn } from './question-words.ts';
import { useDesk } from './use-desk.ts';

/** The desk: the pieces at one side, one of them large in the middle, and what can be said of it. */
export function DraftView({
  name,
  piece: shown,
}: {
  readonly name: string;
  /** The piece that is shown; null: the set as a whole. */
  readonly piece: string | null;
}): JSX.Element {
  const desk = useDesk(name, shown);
  const { draft, asking } = desk;
  const { head, pieces, questions, findings } = draft;
  if (head === null) {
    return (
      <div class="view">
        <h1>{name}</h1>
        <Findings findings={findings} />
        {findings.length === 0 && <p class="quiet">Opening the set …</p>}
      </div>
    );
  }
  return (
    <div class="drafting">
      <DeskHead head={head} draft={draft} />
      <PieceList
        set={name}
        names={head.pieces}
        pieces={pieces}
        questions={questions ?? []}
        shown={shown}
      />
      <DeskPicture desk={desk} head={head} />
      <DeskPanel desk={desk} head={head} />
      <QuestionBar
        questions={questions}
        asked={asking.asked}
        words={asking.asked === null ? '' : wordsIn(head, pieces)(asking.asked)}
        isChecking={draft.isChecking}
        onGo={asking.go}
      />
    </div>
  );
}
