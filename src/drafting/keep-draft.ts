import { existsSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import type { Finding } from '../base/findings.ts';
import { refuse, refuseErrors } from '../base/findings.ts';
import { changedYaml } from '../base/yaml-edit/edit.ts';
import type { History, Step } from '../publishing/history/history.ts';
import { publishFile } from '../publishing/publish-file.ts';
import type { EdgeContext, EditContext } from './edit-context.ts';
import { applyEdit } from './apply-edit.ts';
import type { AppliedEdit, DraftContent } from './content.ts';
import type { Draft, DraftTexts } from './draft.ts';
import { draftOf, openDraft, setFileName, setOfDraft, draftVersion } from './draft.ts';
import type { DraftEdit } from './draft-edit.ts';
import { wordEdit } from './edit-words.ts';
import {
  backOfStep,
  broughtUp,
  didStep,
  readHistory,
  redidStep,
  stepOf,
  undidStep,
  withStep,
} from '../publishing/history/history.ts';
import { ownContent } from './own-content.ts';
import { ownDrawing, ownDrawingText } from './own-drawing.ts';
import { readDraft } from './read-draft.ts';
import { keepReceived } from './received.ts';

/** A draft with the steps that led to it. */
export interface KeptDraft {
  readonly draft: Draft;
  readonly history: History;
  /** The texts as they were first seen: where nothing was kept yet, the story begins with them. */
  readonly seen: DraftTexts;
}

/** A draft after an edit, and what somebody must be told of it. */
export interface EditedDraft extends KeptDraft {
  readonly told: readonly Finding[];
}

/** Where the steps of a set are kept. */
export function historyIn(folder: string): string {
  return join(folder, 'history');
}

/**
 * The draft in a folder as its files stand now. `before`: what is known of it. A step that was cut off
 * while its files were written is finished. Throws a Refusal where a file cannot be read at all.
 */
export function currentDraft(folder: string, before: KeptDraft | null): KeptDraft {
  const history = before?.history ?? finished(folder, readHistory(historyIn(folder)));
  const known = before?.draft ?? null;
  const draft = known !== null && isAsKnown(folder, known) ? known : openDraft(folder, known);
  return { draft, history, seen: before?.seen ?? draft.texts };
}

function isAsKnown(folder: string, { texts }: Draft): boolean {
  return [...texts].every(([name, text]) => textIn(folder, name) === text);
}

function textIn(folder: string, name: string): string | null {
  const file = join(folder, name);
  if (!existsSync(file)) return null;
  return readFileSync(file, encodingOf(name));
}

function encodingOf(name: string): 'utf8' | 'latin1' {
  return name === setFileName ? 'utf8' : 'latin1';
}

/** Finishes the last step where some of its files had been written and others not. */
function finished(folder: string, history: History): History {
  const step = history.last;
  if (step === null || history.texts === null) return history;
  const names = Object.keys(step.files);
  const isAfter = (name: string): boolean =>
    textIn(folder, name) === (history.texts!.get(name) ?? null);
  const before = withStep(history.texts, backOfStep(step));
  const isBefore = (name: string): boolean => textIn(folder, name) === (before?.get(name) ?? null);
  const late = names.filter((name) => !isAfter(name));
  if (late.length > 0 && late.length < names.length && late.every(isBefore)) {
    writeTexts(folder, history.texts, late);
  }
  return history;
}

/** The draft with what happened to its files since the last step kept as a step of its own. */
function upToDate({ draft, history, seen }: KeptDraft): KeptDraft {
  const { folder, texts } = draft;
  const names = [...new Set([...(history.texts ?? seen).keys(), ...texts.keys()])];
  const now = names.flatMap((name): [string, string][] => {
    const text = textIn(folder, name);
    return text === null ? [] : [[name, text]];
  });
  return { draft, seen, history: broughtUp(historyIn(folder), history, new Map(now), seen) };
}

/**
 * Takes an edit that was made for `version`: the step is kept, then the files are written. Throws a
 * Refusal, with nothing written, where the files are others by now, where the edit cannot be, and where
 * the set could not be read after it.
 */
export function editDraft(
  kept: KeptDraft,
  version: string,
  edit: DraftEdit,
  context: EditContext,
): EditedDraft {
  const { draft } = kept;
  refuseOther(draft, version);
  const { content, texts, next } = triedEdit(draft, edit, context);
  // What could not be read as a set is refused before anything is written.
  setOfDraft(next, context.sharedFolder).piecesOf({});
  const told = 'told' in content ? content.told : [];
  const current = upToDate(kept);
  const step = stepOf(wordEdit(edit), draft.texts, texts);
  if (step === null) return { ...current, told };
  if (content.blocks !== draft.blocks && !draft.hasOwnDrawing) keepReceived(draft);
  const history = didStep(historyIn(draft.folder), current.history, step);
  const names = Object.keys(step.files);
  try {
    writeTexts(draft.folder, texts, names);
  } catch (error) {
    takenBack(draft, history, names);
    throw error;
  }
  return { draft: next, history, seen: kept.seen, told };
}

/** What a draft would be after an edit; nothing is written. Throws a Refusal where the edit cannot be. */
export function triedEdit(
  draft: Draft,
  edit: DraftEdit,
  context: EditContext,
): { content: AppliedEdit | DraftContent; texts: DraftTexts; next: Draft } {
  const read = (): ReturnType<typeof readDraft> => readDraft(draft, context.sharedFolder);
  const content = editedContent(draft, edit, { ...context, read });
  const texts = textsOf(draft, content);
  return { content, texts, next: nextDraft(draft, content, texts) };
}

/**
 * What the page shows of a draft, so that edits name things by their places in it. Where the drawing is
 * another program's, it is as the desk would write it.
 */
export function shownContent(draft: Draft, context: EditContext): DraftContent {
  return draft.hasOwnDrawing ? draft : ownContent(draft, context);
}

/** Edits of what is drawn in the desk's own drawing, even where they change the set file alone. */
const ofOwn: ReadonlySet<DraftEdit['kind']> = new Set(['layer', 'edge', 'name-edge', 'seam']);

/** The content after an edit. Where it changes what is drawn, the desk writes the whole drawing. */
function editedContent(
  draft: Draft,
  edit: DraftEdit,
  context: EdgeContext,
): AppliedEdit | DraftContent {
  const content: DraftContent = { said: draft.said, blocks: draft.blocks };
  if (draft.hasOwnDrawing) return applyEdit(content, edit, context);
  const own = ownContent(draft, context);
  const changed = applyEdit(own, edit, context);
  if (changed.blocks !== own.blocks || ofOwn.has(edit.kind)) {
    refuseUnsettled(draft);
    return { ...changed, said: withDoubts(changed.said, draft) };
  }
  return applyEdit(content, edit, context);
}

function textsOf(draft: Draft, { said, blocks }: DraftContent): DraftTexts {
  const before = draft.texts.get(setFileName)!;
  const text =
    said === draft.said ? before : changedYaml(before, said, (plain) => plain as typeof said);
  const texts = new Map([...draft.texts, [setFileName, text]]);
  const isSameDrawn = said.layers === draft.said.layers || !draft.hasOwnDrawing;
  if (blocks === draft.blocks && isSameDrawn) return texts;
  return texts.set(said.drawing!, ownDrawingText({ said, blocks }));
}

/** The draft after an edit, whose blocks are known and need not be read again. */
function nextDraft(draft: Draft, { said, blocks }: DraftContent, texts: DraftTexts): Draft {
  const { drawing } = said;
  const text = texts.get(setFileName)!;
  const isWritten = drawing !== undefined && texts.get(drawing) !== draft.texts.get(drawing);
  if (!isWritten) {
    const isRead = said.units === draft.said.units;
    return draftOf(draft.folder, text, (name) => texts.get(name)!, isRead ? draft : null);
  }
  const files = Object.values(said.pieces).map(({ file }) => file);
  const drawings = [...draft.drawings].filter(([name]) => files.includes(name));
  const own = ownDrawing(join(draft.folder, drawing), blocks);
  const names = new Set([setFileName, drawing, ...files]);
  const named = new Map([...texts].filter(([name]) => names.has(name)));
  return {
    ...draft,
    texts: named,
    version: draftVersion(named),
    said,
    blocks,
    drawings: new Map([...drawings, [drawing, own]]),
    hasOwnDrawing: true,
  };
}

/** Puts back what had been written of a step that could not be written whole. What cannot be put back was not written. */
function takenBack({ folder, texts }: Draft, history: History, names: readonly string[]): void {
  undidStep(historyIn(folder), history);
  for (const name of names.filter((one) => textIn(folder, one) !== (texts.get(one) ?? null))) {
    writeTexts(folder, texts, [name]);
  }
}

/** Refuses to write a drawing anew while something in it stops the set: its units, for example. */
function refuseUnsettled({ drawings }: Draft): void {
  const findings = [...drawings.values()].flatMap((drawing) => drawing.findings);
  refuseErrors(
    findings.map((one) => (one.rule === 'units-assumed' ? { ...one, severity: 'error' } : one)),
  );
}

/** What was doubtful in a drawing is asked about when the desk writes it anew: nothing would tell it then. */
function withDoubts(said: DraftContent['said'], { drawings }: Draft): DraftContent['said'] {
  const doubts = [...drawings.values()]
    .flatMap(({ findings }) => findings)
    .filter(({ severity }) => severity === 'warning')
    .map(({ message }) => message);
  if (doubts.length === 0) return said;
  const drawing = `in the drawing as it came: ${doubts.join(' ')}`.replace(/\.$/, '');
  return { ...said, open: { ...said.open, drawing } };
}

function refuseOther(draft: Draft, version: string): void {
  if (draft.version === version) return;
  refuse(
    'changed-since',
    'the files of the set were changed outside of this page.',
    'The page shows them as they are now: look, then do it again.',
  );
}

/** Takes the last step back. Throws a Refusal where there is none. */
export function undoStep(kept: KeptDraft, version: string): KeptDraft {
  refuseOther(kept.draft, version);
  const { draft, history } = upToDate(kept);
  const step = history.done.at(-1);
  if (step === undefined) refuse('draft', 'there is nothing to undo.', 'Go on.');
  return wentTo(kept, undidStep(historyIn(draft.folder), history), step);
}

/** Does the step again that was undone last. Throws a Refusal where there is none. */
export function redoStep(kept: KeptDraft, version: string): KeptDraft {
  refuseOther(kept.draft, version);
  const { draft, history } = upToDate(kept);
  const step = history.undone.at(-1);
  if (step === undefined) refuse('draft', 'there is nothing to do again.', 'Go on.');
  return wentTo(kept, redidStep(historyIn(draft.folder), history), step);
}

function wentTo({ draft: { folder }, seen }: KeptDraft, history: History, step: Step): KeptDraft {
  writeTexts(folder, history.texts!, Object.keys(step.files));
  return { draft: openDraft(folder), history, seen };
}

/** Writes some files of a draft; drawings come first, so that no set file names what is not there. */
function writeTexts(folder: string, texts: DraftTexts, names: readonly string[]): void {
  const last = (name: string): number => Number(name === setFileName);
  for (const name of names.toSorted((a, b) => last(a) - last(b))) {
    const text = texts.get(name);
    const file = join(folder, name);
    if (text !== undefined) publishFile(file, Buffer.from(text, encodingOf(name)));
    else rmSync(file, { force: true });
  }
}
