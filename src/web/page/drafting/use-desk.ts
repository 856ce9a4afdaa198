import type { RefObject } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { StretchView } from '../../../drafting/edge-view.ts';
import type { Question } from '../../../drafting/questions.ts';
import type { SeamView } from '../../../drafting/seam-view.ts';
import type { PieceView } from '../../../drafting/view.ts';
import type { Shop } from '../../api/shop.ts';
import { addressOf } from '../address.ts';
import type { SentEdit } from '../server/calls.ts';
import { calls } from '../server/calls.ts';
import { useLoaded } from '../use-loaded.ts';
import type { EdgeAnswers } from './edges/use-edge-answers.ts';
import { useEdgeAnswers } from './edges/use-edge-answers.ts';
import type { EdgesShown } from './edges/use-edges.ts';
import { useEdges } from './edges/use-edges.ts';
import { sideOfReference, useSeams } from './edges/use-seams.ts';
import type { Sewing } from './edges/use-sewing.ts';
import { useSewing } from './edges/use-sewing.ts';
import { isSettledBy } from './things/settled.ts';
import type { BeingPlaced } from './things/use-placing.ts';
import { usePlacing } from './things/use-placing.ts';
import type { Asking } from './use-asking.ts';
import { useAsking } from './use-asking.ts';
import type { Choosing } from './use-chosen.ts';
import { useChosen } from './use-chosen.ts';
import type { OpenDraft } from './use-draft.ts';
import { useDraft } from './use-draft.ts';
import { useFocusOnAsked } from './use-focus-on-asked.ts';
import type { HeldEdit } from './use-held-edit.ts';
import { useHeldEdit } from './use-held-edit.ts';
import { useRest } from './use-rest.ts';

/** All that the parts of the desk have in common: the draft, what is shown of it, chosen and asked. */
export interface OpenDesk {
  readonly draft: OpenDraft;
  readonly held: HeldEdit | null;
  /** null: it is not there yet. */
  readonly shop: Shop | null;
  /** The name of the piece that is shown; null: the set as a whole. */
  readonly shown: string | null;
  readonly piece: PieceView | null;
  readonly choosing: Choosing;
  /** The piece that is chosen on the plan of the whole set. */
  readonly onPlan: string | null;
  readonly chooseOnPlan: (piece: string | null) => void;
  readonly placed: BeingPlaced;
  readonly edges: EdgesShown;
  readonly edgeAnswers: EdgeAnswers;
  readonly sewing: Sewing;
  readonly openSeam: (seam: SeamView) => void;
  readonly asking: Asking;
  /** What is asked about what is shown. */
  readonly here: readonly Question[];
  /** Does an edit of what is chosen, which may answer a question about that. */
  readonly editThings: (edit: SentEdit) => Promise<boolean>;
  /** Whether another question has just come, so that nothing is to be pressed for a moment. */
  readonly isResting: boolean;
  readonly panel: RefObject<HTMLDivElement | null>;
}

/** The desk of a set, with one of its pieces shown or all of them. */
export function useDesk(name: string, shown: string | null): OpenDesk {
  const { draft, held } = useHeldEdit(useDraft(name));
  const { head, pieces, questions, edit } = draft;
  const shop = useLoaded(() => calls.shop(), []).value;
  const piece = shown === null ? null : (pieces.get(shown) ?? null);
  const [onPlan, chooseOnPlan] = useState<string | null>(null);
  const choosing = useChosen(shown, piece);
  const { chosen, choose, chooseOn } = choosing;
  const placed = usePlacing(piece, edit, chooseOn);
  const edges = useEdges(piece, chosen, choose);
  const seams = useSeams(name, draft.checked);
  const sewing = useSewing(name, head?.version, seams, piece, pieces, edges);
  const panel = useRef<HTMLDivElement>(null);
  const toTop = (): void => panel.current?.scrollTo({ top: 0 });
  const { isResting, rest } = useRest();
  const asking = useAsking(draft, shown, (next) => {
    edges.clear();
    chooseOn(next);
    toTop();
    rest();
    announce();
  });
  const announce = useFocusOnAsked(panel, asking.asked, shown, chosen);
  const edgeAnswers = useEdgeAnswers(piece, edges, asking, edit, choose);
  // Why an edit was refused stands at the top of the panel, which may be far away.
  useEffect(() => {
    if (draft.findings.length > 0) toTop();
  }, [draft.findings.map(({ message }) => message).join('\n')]);

  const here = (questions ?? []).filter((one) => one.piece === shown && one.severity !== 'note');
  const editThings = async (one: SentEdit): Promise<boolean> => {
    const settled = here.find((each) => isSettledBy(each, one, pieces));
    if (settled === undefined) return edit(one);
    await asking.answer(settled, one);
    return true;
  };
  const openSeam = ({ join: [first, second], ease }: SeamView): void => {
    const side = sideOfReference(first, pieces);
    const own = side === null ? undefined : pieces.get(side.piece);
    if (side === null || own === undefined) return;
    const list = side.stretches.map((one) => own.stretches.indexOf(one as StretchView));
    chooseOn({ piece: side.piece, chosen: { kind: 'edges', edges: list } });
    sewing.beginWith(side.piece, second, ease);
    location.hash = addressOf('sets', name, side.piece);
  };
  return {
    draft,
    held,
    shop,
    shown,
    piece,
    choosing,
    onPlan,
    chooseOnPlan,
    placed,
    edges,
    edgeAnswers,
    sewing,
    openSeam,
    asking,
    here,
    editThings,
    isResting,
    panel,
  };
}
