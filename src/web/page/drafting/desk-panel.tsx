import type { JSX } from 'preact';
import type { DraftHead, PieceView } from '../../../drafting/view.ts';
import { addressOf } from '../address.ts';
import { Findings } from '../controls/findings.tsx';
import { Answer } from './answer.tsx';
import { nothingChosen } from './chosen.ts';
import { EdgeSection } from './edges/edge-section.tsx';
import { SeamList } from './edges/seam-list.tsx';
import { SewnEdges } from './edges/seam-panel.tsx';
import { BothHandsPane } from './hands/both-hands-pane.tsx';
import { CentrelinePane } from './hands/centreline-pane.tsx';
import { PairPane } from './hands/pair-pane.tsx';
import { HeldEditQuestion } from './held-edit.tsx';
import { LeftOutPanel } from './left-out-panel.tsx';
import { othersAsked } from './others-asked.ts';
import { PiecePanel } from './piece-panel.tsx';
import { PlacePanel } from './plan/place-panel.tsx';
import { QuestionCards } from './question-card.tsx';
import { wordsIn } from './question-words.ts';
import { RuleAnswer } from './rule-answer.tsx';
import { SetPanel } from './set-panel.tsx';
import { ThingPanel } from './thing-panel.tsx';
import { AddPanel } from './things/add-panel.tsx';
import type { OpenDesk } from './use-desk.ts';

interface Props {
  readonly desk: OpenDesk;
  readonly head: DraftHead;
}

/** What can be said of what is shown: what is asked first, then what is chosen, then everything. */
export function DeskPanel({ desk, head }: Props): JSX.Element {
  const { draft, held, piece, shown, here, choosing, sewing } = desk;
  const { chosen, choose } = choosing;
  const isPairAsked = here.some(({ key, rule }) => key === 'side' || rule === 'besides-pair');
  return (
    <div class={`drafting-panel${desk.isResting ? ' resting' : ''}`} ref={desk.panel}>
      {held !== null && <HeldEditQuestion held={held} />}
      <Findings findings={draft.findings} />
      {draft.changedOutside !== null && (
        <p class="notice" role="status">
          The files were changed outside of this page: what you see is how they are now.
        </p>
      )}
      <h2>{shown ?? 'The whole set'}</h2>
      <Asked desk={desk} head={head} />
      {piece !== null && isPairAsked && <Pair desk={desk} head={head} piece={piece} />}
      <SewnEdges sewing={sewing} edit={draft.edit} />
      {piece !== null && chosen.kind === 'things' && (
        <ThingPanel
          piece={piece}
          things={chosen.things}
          pieces={head.pieces}
          views={draft.pieces}
          set={head.name}
          version={head.version}
          edit={desk.editThings}
          onDone={() => choose(nothingChosen)}
        />
      )}
      {piece === null ? (
        <OfSet desk={desk} head={head} />
      ) : (
        <OfPiece desk={desk} head={head} piece={piece}>
          {!isPairAsked && <Pair desk={desk} head={head} piece={piece} />}
        </OfPiece>
      )}
    </div>
  );
}

/** What is asked about what is shown, with what answers it. */
function Asked({ desk: { draft, shop, piece, here, asking }, head }: Props): JSX.Element {
  const { asked, go, answer } = asking;
  return (
    <QuestionCards
      questions={here}
      asked={asked}
      wordsOf={wordsIn(head, draft.pieces)}
      answerTo={(one) =>
        one.key === null ? (
          <RuleAnswer
            question={one}
            pieces={head.pieces}
            shop={shop}
            onAnswer={(change) => void answer(one, change)}
          />
        ) : (
          <Answer
            key={one.id}
            question={{ ...one, key: one.key }}
            piece={piece}
            head={head}
            shop={shop}
            also={othersAsked(one, draft.questions ?? [], draft.pieces)}
            onAnswer={(change) => void answer(one, change)}
          />
        )
      }
      onGo={go}
    />
  );
}

/** Everything that is said of the set as a whole. */
function OfSet({ desk, head }: Props): JSX.Element {
  const { draft, shop, sewing, openSeam, onPlan, chooseOnPlan } = desk;
  const { pieces, edit } = draft;
  return (
    <>
      <LeftOutPanel head={head} edit={edit} />
      <SetPanel head={head} pieces={pieces} shop={shop} edit={edit}>
        <SeamList seams={sewing.seams} piece={null} onOpen={openSeam} />
      </SetPanel>
      <PlacePanel
        set={head.name}
        pieces={pieces}
        overlaps={head.overlaps}
        chosen={onPlan}
        onChoose={chooseOnPlan}
        edit={edit}
      />
    </>
  );
}

/** Everything that is said of the piece that is shown. */
function OfPiece({
  desk,
  head,
  piece,
  children,
}: Props & {
  readonly piece: PieceView;
  readonly children: JSX.Element | false;
}): JSX.Element {
  const { draft, shop, choosing, edges, edgeAnswers, sewing, openSeam, placed } = desk;
  const { chosen, choose } = choosing;
  const { placing, setPlacing, add } = placed;
  return (
    <PiecePanel
      piece={piece}
      shop={shop}
      chosen={chosen}
      edit={draft.edit}
      onChoose={choose}
      onRenamed={(to) => {
        location.hash = addressOf('sets', head.name, ...(to === null ? [] : [to]));
      }}
    >
      <EdgeSection
        piece={piece}
        edges={edges}
        edit={edgeAnswers.edit}
        onPass={edgeAnswers.pass}
        onChoose={choose}
        onSew={sewing.begin}
      />
      <SeamList seams={sewing.seams} piece={piece.name} onOpen={openSeam} />
      <AddPanel piece={piece} placing={placing} onPlacing={setPlacing} onPlace={add} />
      <CentrelinePane
        piece={piece}
        isPlacing={placing?.kind === 'centreline'}
        onPlacing={setPlacing}
        onAnswer={(one) => void draft.edit(one)}
      />
      <BothHandsPane set={head.name} version={head.version} piece={piece.name} />
      {children}
    </PiecePanel>
  );
}

/** What may be its other half. */
function Pair({
  desk: { draft },
  head,
  piece: { name, said },
}: Props & { readonly piece: PieceView }): JSX.Element | null {
  if (draft.checked === undefined) return null;
  return (
    <PairPane
      set={head.name}
      version={draft.checked}
      piece={name}
      isDecided={said.decided !== undefined}
      onAnswer={(change) => void draft.edit(change)}
    />
  );
}
