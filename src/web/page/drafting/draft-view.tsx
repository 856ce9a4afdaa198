import type { JSX } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Question } from '../../../drafting/questions.ts';
import type { Spot, StretchView } from '../../../drafting/edge-view.ts';
import type { PieceView } from '../../../drafting/view.ts';
import type { SeamView } from '../../../drafting/seam-view.ts';
import { addressOf } from '../address.ts';
import { Findings } from '../controls/findings.tsx';
import type { SentEdit } from '../server/calls.ts';
import { calls } from '../server/calls.ts';
import { useLoaded } from '../use-loaded.ts';
import { counted } from '../words.ts';
import { Answer } from './answer.tsx';
import type { Chosen } from './chosen.ts';
import { chosenWith, nothingChosen } from './chosen.ts';
import { HeldEditQuestion } from './held-edit.tsx';
import { BothHandsPane } from './hands/both-hands-pane.tsx';
import { CentrelinePane } from './hands/centreline-pane.tsx';
import { PairPane } from './hands/pair-pane.tsx';
import { RuleAnswer } from './rule-answer.tsx';
import { EdgeSection } from './edges/edge-section.tsx';
import { SeamList } from './edges/seam-list.tsx';
import { SeamMarks } from './edges/seam-marks.tsx';
import { SewnEdges } from './edges/seam-panel.tsx';
import { OtherPiece } from './edges/seam-table.tsx';
import { useEdgeAnswers } from './edges/use-edge-answers.ts';
import { useEdges } from './edges/use-edges.ts';
import { sideOfReference } from './edges/use-seams.ts';
import { useSewing } from './edges/use-sewing.ts';
import { LeftOutPanel } from './left-out-panel.tsx';
import { PlacePanel } from './plan/place-panel.tsx';
import { PlanView } from './plan/plan-view.tsx';
import { PieceList } from './piece-list.tsx';
import { PiecePanel } from './piece-panel.tsx';
import { PiecePicture } from './piece-picture.tsx';
import { QuestionBar } from './question-bar.tsx';
import { QuestionCards } from './question-card.tsx';
import { questionWords } from './question-words.ts';
import { AddPanel } from './things/add-panel.tsx';
import type { Placing } from './things/placing.ts';
import { additionAt, placesNeeded } from './things/placing.ts';
import { isSettledBy } from './things/settled.ts';
import { snapOf } from './things/snap.ts';
import { SetPanel } from './set-panel.tsx';
import { ThingPanel } from './thing-panel.tsx';
import type { ToChoose } from './use-asking.ts';
import { useAsking } from './use-asking.ts';
import { useDraft } from './use-draft.ts';
import { useHeldEdit } from './use-held-edit.ts';
import { useRest } from './use-rest.ts';

/** The desk: the pieces at one side, one of them large in the middle, and what can be said of it. */
export function DraftView({
  name,
  piece: shown,
}: {
  readonly name: string;
  /** The piece that is shown; null: the set as a whole. */
  readonly piece: string | null;
}): JSX.Element {
  const { draft, held } = useHeldEdit(useDraft(name));
  const { head, pieces, questions, edit } = draft;
  const shop = useLoaded(() => calls.shop(), []).value;
  const [chosen, setChosen] = useState<Chosen>(nothingChosen);
  const [isFraming, setFraming] = useState(false);
  const [onPlan, setOnPlan] = useState<string | null>(null);
  const [placing, setPlacing] = useState<Placing | null>(null);
  useEffect(() => setPlacing(null), [shown]);
  const piece = shown === null ? null : (pieces.get(shown) ?? null);
  const [toChoose, setToChoose] = useState<ToChoose>(noneToChoose);
  const edges = useEdges(piece, chosen, setChosen);
  const sewing = useSewing(name, head?.version, piece, pieces, edges);
  const last = useRef({ shown, toChoose });
  useEffect(() => {
    const isOther = last.current.shown !== shown || last.current.toChoose !== toChoose;
    last.current = { shown, toChoose };
    const next = toChoose.piece === shown ? toChoose.chosen : nothingChosen;
    // What is chosen of the edge stays so while lines are drawn along it.
    setChosen((before) => (!isOther && before.kind === 'edges' ? before : next));
  }, [shown, piece?.things.length, toChoose]);

  const panel = useRef<HTMLDivElement>(null);
  const { isResting, rest } = useRest();
  const asking = useAsking(draft, shown, (next) => {
    edges.clear();
    setToChoose(next);
    panel.current?.scrollTo({ top: 0 });
    rest();
  });
  const { asked, go, answer } = asking;
  const wordsOf = (one: Question): string =>
    questionWords(one, one.piece === null ? null : (pieces.get(one.piece) ?? null), head!);
  /** Does an edit of what is chosen, which may answer a question about that. */
  const editThings = async (one: SentEdit): Promise<boolean> => {
    const settled = here.find((each) => isSettledBy(each, one, pieces));
    if (settled === undefined) return edit(one);
    await answer(settled, one);
    return true;
  };
  /** Adds something to a piece, and chooses it: it comes last. */
  const addTo = (to: PieceView, one: Placing): void => {
    setPlacing(null);
    setToChoose({
      piece: to.name,
      chosen: { kind: 'things', things: [to.things.length] },
    });
    void edit(additionAt(to, one));
  };
  const placeAt = (on: PieceView, at: Spot): void => {
    const next = { ...placing!, points: [...placing!.points, at] };
    if (next.points.length < placesNeeded(next.kind)) setPlacing(next);
    else addTo(on, next);
  };
  const edgeAnswers = useEdgeAnswers(piece, edges, asking, edit, setChosen);
  const openSeam = ({ join: [first, second], ease }: SeamView): void => {
    const side = sideOfReference(first, pieces);
    const own = side === null ? undefined : pieces.get(side.piece);
    if (side === null || own === undefined) return;
    const list = side.stretches.map((one) => own.stretches.indexOf(one as StretchView));
    setToChoose({ piece: side.piece, chosen: { kind: 'edges', edges: list } });
    sewing.beginWith(side.piece, second, ease);
    location.hash = addressOf('sets', name, side.piece);
  };
  const here = (questions ?? []).filter((one) => one.piece === shown && one.severity !== 'note');
  const isPairAsked = here.some(({ key, rule }) => key === 'side' || rule === 'besides-pair');
  const pairPane = (one: PieceView): JSX.Element => (
    <PairPane
      set={name}
      version={head!.version}
      piece={one.name}
      isDecided={one.said.decided !== undefined}
      onAnswer={(change) => void edit(change)}
    />
  );
  const keys = (event: KeyboardEvent): void => {
    if (!(event.ctrlKey || event.metaKey) || event.key.toLowerCase() !== 'z') return;
    if (isTypedIn(event.target)) return;
    event.preventDefault();
    void (event.shiftKey ? draft.redo() : draft.undo());
  };
  useEffect(() => {
    addEventListener('keydown', keys);
    return () => removeEventListener('keydown', keys);
  });

  // Why an edit was refused stands at the top of the panel, which may be far away.
  useEffect(() => {
    if (draft.findings.length > 0) panel.current?.scrollTo({ top: 0 });
  }, [draft.findings.map(({ message }) => message).join('\n')]);

  if (head === null) {
    return (
      <div class="view">
        <h1>{name}</h1>
        <Findings findings={draft.findings} />
        {draft.findings.length === 0 && <p class="quiet">Opening the set …</p>}
      </div>
    );
  }
  return (
    <div class="drafting">
      <header class="drafting-head">
        <h1>{head.said.title}</h1>
        <p class="quiet">
          {head.said.drawn}, {counted(head.pieces.length, 'piece')}, patterns/{name}
        </p>
        <div class="actions">
          <span class="quiet">{head.undo === null ? '' : `Last: ${head.undo}`}</span>
          <button
            class="button"
            disabled={head.undo === null}
            title={head.undo ?? undefined}
            onClick={() => void draft.undo()}
          >
            Undo
          </button>
          <button
            class="button"
            disabled={head.redo === null}
            title={head.redo ?? undefined}
            onClick={() => void draft.redo()}
          >
            Redo
          </button>
        </div>
      </header>
      <PieceList
        set={name}
        names={head.pieces}
        pieces={pieces}
        questions={questions ?? []}
        shown={shown}
      />
      <div class={`drafting-middle${sewing.other === undefined ? '' : ' two'}`}>
        {piece === null ? (
          <PlanView
            head={head}
            pieces={pieces}
            asked={asked?.piece === null ? asked : null}
            chosen={onPlan}
            onChoose={setOnPlan}
            edit={edit}
          />
        ) : (
          <PiecePicture
            piece={piece}
            stretches={edges.stretches}
            chosen={chosen}
            asked={asked?.piece === piece.name ? asked.at : null}
            gap={asked?.piece === piece.name ? asked.gap : null}
            isFraming={isFraming}
            onPlace={
              placing !== null
                ? (at) => placeAt(piece, at)
                : edges.isPlacing
                  ? edges.divideAt
                  : null
            }
            snap={placing === null ? null : snapOf(placing.kind, piece)}
            onMove={(by) => {
              if (chosen.kind === 'things')
                void edit({
                  kind: 'move',
                  block: piece.block,
                  things: [...chosen.things],
                  by: [...by],
                });
            }}
            onPoint={(at, add) => setChosen((before) => chosenWith(before, at, add))}
            onSweep={(list) => setChosen({ kind: 'edges', edges: list })}
            onFrame={(things) =>
              setChosen(things.length === 0 ? nothingChosen : { kind: 'things', things })
            }
            onFraming={setFraming}
            over={(view) =>
              sewing.other !== undefined &&
              sewing.seam?.fits.map((fit) => <SeamMarks fit={fit} edge={0} view={view} />)
            }
          />
        )}
        {sewing.other !== undefined && (
          <OtherPiece
            piece={sewing.other}
            pieces={[...pieces.values()]}
            chosen={sewing.otherChosen}
            fits={sewing.seam?.fits ?? []}
            onPiece={sewing.chooseOther}
            onChoose={sewing.chooseOtherEdges}
          />
        )}
      </div>
      <div class={`drafting-panel${isResting ? ' resting' : ''}`} ref={panel}>
        {held !== null && <HeldEditQuestion held={held} />}
        <Findings findings={draft.findings} />
        {draft.changedOutside !== null && (
          <p class="notice" role="status">
            The files were changed outside of this page: what you see is how they are now.
          </p>
        )}
        <h2>{shown ?? 'The whole set'}</h2>
        <QuestionCards
          questions={here}
          asked={asked}
          wordsOf={wordsOf}
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
                question={{ ...one, key: one.key }}
                piece={piece}
                head={head}
                shop={shop}
                also={othersAsked(one, questions ?? [], pieces)}
                onAnswer={(change) => void answer(one, change)}
              />
            )
          }
          onGo={go}
        />
        {piece !== null && isPairAsked && pairPane(piece)}
        <SewnEdges sewing={sewing} edit={edit} />
        {piece !== null && chosen.kind === 'things' && (
          <ThingPanel
            piece={piece}
            things={chosen.things}
            pieces={head.pieces}
            views={pieces}
            set={name}
            version={head.version}
            edit={editThings}
            onDone={() => setChosen(nothingChosen)}
          />
        )}
        {piece === null ? (
          <>
            <LeftOutPanel head={head} edit={edit} />
            <SetPanel head={head} pieces={pieces} shop={shop} edit={edit}>
              <SeamList seams={sewing.seams} piece={null} onOpen={openSeam} />
            </SetPanel>
            <PlacePanel
              set={name}
              pieces={pieces}
              overlaps={head.overlaps}
              chosen={onPlan}
              onChoose={setOnPlan}
              edit={edit}
            />
          </>
        ) : (
          <PiecePanel
            piece={piece}
            shop={shop}
            chosen={chosen}
            edit={edit}
            onChoose={setChosen}
            onRenamed={(to) => {
              location.hash = addressOf('sets', name, ...(to === null ? [] : [to]));
            }}
          >
            <EdgeSection
              piece={piece}
              edges={edges}
              edit={edgeAnswers.edit}
              onPass={edgeAnswers.pass}
              onChoose={setChosen}
              onSew={sewing.begin}
            />
            <SeamList seams={sewing.seams} piece={piece.name} onOpen={openSeam} />
            <AddPanel
              piece={piece}
              placing={placing}
              onPlacing={setPlacing}
              onPlace={(one) => addTo(piece, one)}
            />
            <CentrelinePane
              piece={piece}
              isPlacing={placing?.kind === 'centreline'}
              onPlacing={setPlacing}
              onAnswer={(one) => void edit(one)}
            />
            <BothHandsPane set={name} version={head.version} piece={piece.name} />
            {!isPairAsked && pairPane(piece)}
          </PiecePanel>
        )}
      </div>
      <QuestionBar
        questions={questions}
        asked={asked}
        words={asked === null ? '' : wordsOf(asked)}
        isChecking={draft.isChecking}
        onGo={go}
      />
    </div>
  );
}

/** Whether somebody types there, so that Ctrl+Z takes back what was typed. */
function isTypedIn(target: EventTarget | null): boolean {
  if (target instanceof HTMLTextAreaElement) return true;
  return target instanceof HTMLInputElement && !['radio', 'checkbox'].includes(target.type);
}

const noneToChoose: ToChoose = { piece: null, chosen: nothingChosen };

/** Other pieces of which the same is asked, with the same value as a guess. */
function othersAsked(
  { piece, key, message }: Question,
  questions: readonly Question[],
  pieces: ReadonlyMap<string, PieceView>,
): string[] {
  if (piece === null || key === null || key === 'texts') return [];
  const valueOf = (name: string): string =>
    JSON.stringify(pieces.get(name)?.said[key as keyof PieceView['said']]);
  return questions.flatMap((one) =>
    one.piece !== null &&
    one.piece !== piece &&
    one.key === key &&
    one.message === message &&
    valueOf(one.piece) === valueOf(piece)
      ? [one.piece]
      : [],
  );
}
