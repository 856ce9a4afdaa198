import type { z } from 'zod';
import type { Finding } from '../../base/findings.ts';
import { Refusal } from '../../base/findings.ts';
import { bothHands } from '../../drafting/both-hands.ts';
import type { DraftContent } from '../../drafting/content.ts';
import type { Draft } from '../../drafting/draft.ts';
import type { DraftEdit, EditOf } from '../../drafting/draft-edit.ts';
import type { EditContext } from '../../drafting/edit-context.ts';
import { contextOf } from '../../drafting/edit-context.ts';
import { otherHalves } from '../../drafting/halves.ts';
import type { EditedDraft, KeptDraft } from '../../drafting/keep-draft.ts';
import {
  currentDraft,
  editDraft,
  redoStep,
  shownContent,
  undoStep,
} from '../../drafting/keep-draft.ts';
import { overlapsOf } from '../../drafting/overlaps.ts';
import { questionsOf } from '../../drafting/questions.ts';
import type { ReadDraft } from '../../drafting/read-draft.ts';
import { readDraft } from '../../drafting/read-draft.ts';
import { runsNaming } from '../../drafting/runs-naming.ts';
import type { SeamView } from '../../drafting/seam-view.ts';
import { askedSeamView, seamViews } from '../../drafting/seam-view.ts';
import type { DraftHead, PieceView } from '../../drafting/view.ts';
import { layerViews, leftOutViews, pieceViews } from '../../drafting/view.ts';
import type {
  askedHandsSchema,
  SentDraft,
  SentHalves,
  SentHands,
  SentQuestions,
  SentRuns,
  SentSeams,
} from '../api/draft.ts';
import { quotable } from '../workshop/quoted.ts';
import type { Workshop } from '../workshop/workshop.ts';
import { placeIn } from '../workshop/workshop.ts';

interface DraftWish {
  readonly shop: Workshop;
  readonly set: string;
  /** The version that the page knows; null: none. */
  readonly version: string | null;
}

/** Drafts by their folders, as this thread knows them. */
const known = new Map<string, KeptDraft>();

/** The pieces of each draft as they were last sent, and with which version. */
const sent = new Map<
  string,
  { readonly version: string; readonly pieces: ReadonlySet<PieceView> }
>();

/**
 * A draft as its files stand; null: they are as the page knows them. Throws a Refusal where its files cannot be
 * read at all.
 */
export function openedDraft({ shop, set, version }: DraftWish): SentDraft | null {
  const kept = keptIn(shop, set);
  return kept.draft.version === version ? null : answerOf(shop, kept, version);
}

/** Does an edit that was made for a version. Throws a Refusal, with nothing written, where it cannot be. */
export function editedDraft({
  shop,
  set,
  version,
  edit,
}: DraftWish & { readonly edit: DraftEdit }): SentDraft {
  return after(shop, set, version, (kept, context) =>
    editDraft(kept, version ?? '', edit, context),
  );
}

/** Takes the last step back. Throws a Refusal where there is none, or the files are others by now. */
export function undoneDraft({ shop, set, version }: DraftWish): SentDraft {
  return after(shop, set, version, (kept) => undoStep(kept, version ?? ''));
}

/** Does a step again that was undone. Throws a Refusal where there is none, or the files are others by now. */
export function redoneDraft({ shop, set, version }: DraftWish): SentDraft {
  return after(shop, set, version, (kept) => redoStep(kept, version ?? ''));
}

function after(
  shop: Workshop,
  set: string,
  version: string | null,
  step: (kept: KeptDraft, context: EditContext) => KeptDraft | EditedDraft,
): SentDraft {
  const kept = keptIn(shop, set);
  const done = step(kept, contextOf(kept.draft.said, shop.shared));
  const next = { draft: done.draft, history: done.history, seen: done.seen };
  known.set(kept.draft.folder, next);
  return answerOf(shop, next, version, 'told' in done ? done.told : []);
}

function keptIn(shop: Workshop, set: string): KeptDraft {
  const folder = placeIn(shop.patterns, set);
  const kept = currentDraft(folder, known.get(folder) ?? null);
  known.set(folder, kept);
  return kept;
}

function answerOf(
  shop: Workshop,
  kept: KeptDraft,
  version: string | null,
  told: readonly Finding[] = [],
): SentDraft {
  const { draft } = kept;
  const context = contextOf(draft.said, shop.shared);
  const { read, findings } = readOf(draft, shop.shared);
  const content = shownContent(draft, context);
  const pieces = pieceViews(content, read, context);
  const before = sent.get(draft.folder);
  sent.set(draft.folder, { version: draft.version, pieces: new Set(pieces) });
  const isNews = (piece: PieceView): boolean =>
    before === undefined || before.version !== version || !before.pieces.has(piece);
  return {
    head: headOf(kept, content, read, context),
    pieces: pieces.filter(isNews),
    findings: findings.map((one) => quotable(one, shop)),
    told: told.map((one) => quotable(one, shop)),
  };
}

/** The set as it is read; where it cannot be, why. */
function readOf(
  draft: Draft,
  sharedFolder: string,
): { read: ReadDraft | null; findings: readonly Finding[] } {
  try {
    return { read: readDraft(draft, sharedFolder), findings: [] };
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    return { read: null, findings: error.findings };
  }
}

function headOf(
  { draft, history }: KeptDraft,
  content: DraftContent,
  read: ReadDraft | null,
  context: EditContext,
): DraftHead {
  const { pieces, ...said } = draft.said;
  return {
    name: draft.name,
    version: draft.version,
    said,
    pieces: Object.keys(pieces),
    layers: layerViews(content, context),
    leftOut: leftOutViews(content, context),
    overlaps: read === null ? [] : overlapsOf(read.pieces),
    undo: history.done.at(-1)?.words ?? null,
    redo: history.undone.at(-1)?.words ?? null,
    isForeign: !draft.hasOwnDrawing,
  };
}

/** All that is open about a draft. Throws a Refusal where it cannot be read at all. */
export function draftQuestions({ shop, set }: Omit<DraftWish, 'version'>): SentQuestions {
  const { draft } = keptIn(shop, set);
  const questions = questionsOf(draft, contextOf(draft.said, shop.shared));
  return { version: draft.version, questions };
}

/**
 * A piece of a draft as it is for both hands, for all that some of its things may go with. Nothing is
 * written. Throws a Refusal where the set cannot be read.
 */
export function draftHands({
  shop,
  set,
  ...asked
}: Omit<DraftWish, 'version'> & z.infer<typeof askedHandsSchema>): SentHands {
  const { draft } = keptIn(shop, set);
  const context = contextOf(draft.said, shop.shared);
  const content = shownContent(draft, context);
  const hands = bothHands(content, readDraft(draft, shop.shared), context, asked);
  return { version: draft.version, hands };
}

/** The pieces that may be the other half of one as a pair. Throws a Refusal where the set cannot be read. */
export function draftHalves({
  shop,
  set,
  piece,
}: Omit<DraftWish, 'version'> & { readonly piece: string }): SentHalves {
  const { draft } = keptIn(shop, set);
  const halves = otherHalves(readDraft(draft, shop.shared).pieces, piece);
  return { version: draft.version, halves };
}

/** The runs that speak of a piece. Throws a Refusal where the set cannot be read at all. */
export function draftRuns({
  shop,
  set,
  piece,
}: Omit<DraftWish, 'version'> & { readonly piece: string }): SentRuns {
  return { runs: runsNaming(keptIn(shop, set).draft, piece) };
}

/** How all seams of a draft fit. Throws a Refusal where it cannot be read at all. */
export function draftSeams({ shop, set }: Omit<DraftWish, 'version'>): SentSeams {
  const { draft } = keptIn(shop, set);
  const seams = seamViews(draft, contextOf(draft.said, shop.shared));
  return { version: draft.version, seams: seams.map((one) => quotedSeam(one, shop)) };
}

/** How two edges would fit if they were sewn. Throws a Refusal where they cannot be. */
export function askedSeam({
  shop,
  set,
  edit,
}: Omit<DraftWish, 'version'> & { readonly edit: EditOf<'seam'> }): SeamView {
  const { draft } = keptIn(shop, set);
  return quotedSeam(askedSeamView(draft, edit, contextOf(draft.said, shop.shared)), shop);
}

function quotedSeam(seam: SeamView, shop: Workshop): SeamView {
  return { ...seam, findings: seam.findings.map((one) => quotable(one, shop)) };
}
