/** Drafts for tests: the set wren in a workshop of its own, changed edit by edit. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Block } from '../../src/drawing/drawing.ts';
import { contextOf } from '../../src/drafting/edit-context.ts';
import type { DraftEdit } from '../../src/drafting/draft-edit.ts';
import { currentDraft, editDraft, redoStep, undoStep } from '../../src/drafting/keep-draft.ts';
import type { KeptDraft } from '../../src/drafting/keep-draft.ts';

export interface TestDraft {
  readonly folder: string;
  readonly kept: () => KeptDraft;
  readonly edit: (edit: DraftEdit) => KeptDraft;
  readonly undo: () => KeptDraft;
  readonly redo: () => KeptDraft;
  /** Forgets what is known, as a server that is started anew. */
  readonly restart: () => KeptDraft;
  readonly text: (name: string) => string;
}

/** Opens a set of a workshop as a draft. */
export function openTestDraft(root: string, set = 'wren'): TestDraft {
  const folder = join(root, 'patterns', set);
  let kept: KeptDraft | null = null;
  const current = (): KeptDraft => (kept = currentDraft(folder, kept));
  const version = (): string => current().draft.version;
  return {
    folder,
    kept: current,
    edit: (edit) => {
      const before = current();
      const context = contextOf(before.draft.said, join(root, 'shared'));
      return (kept = editDraft(before, version(), edit, context));
    },
    undo: () => (kept = undoStep(current(), version())),
    redo: () => (kept = redoStep(current(), version())),
    restart: () => {
      kept = null;
      return current();
    },
    text: (name) => readFileSync(join(folder, name), 'latin1'),
  };
}

/** Blocks without the lines of the file that they came from, which another file has elsewhere. */
export function withoutLines(blocks: readonly Block[]): unknown {
  return blocks.map(({ name, entities }) => ({
    name,
    entities: entities.map((entity) => ({ ...entity, line: 0 })),
  }));
}
