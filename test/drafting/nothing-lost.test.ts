import { existsSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it, vi } from 'vitest';
import { hole } from '../../patterns/fenlark/pen.ts';
import { Refusal } from '../../src/base/findings.ts';
import { setFileName } from '../../src/drafting/draft.ts';
import { contextOf } from '../../src/drafting/edit-context.ts';
import type { DraftEdit } from '../../src/drafting/draft-edit.ts';
import { questionsOf } from '../../src/drafting/questions.ts';
import { dxf, lwpolyline } from '../drawing/dxf.ts';
import { writeR12 } from '../../src/drawing/writing/write-r12.ts';
import type { Files } from '../support/wren.ts';
import { drawingFile, inFolder, replaced, setFile, wren, wrenBlocks } from '../support/wren.ts';
import type { TestDraft } from './drafting.ts';
import { openTestDraft } from './drafting.ts';

const blocked = vi.hoisted(() => ({ file: '' }));
vi.mock('../../src/publishing/publish-file.ts', async (load) => {
  const own = await load<typeof import('../../src/publishing/publish-file.ts')>();
  const { refuse } = await import('../../src/base/findings.ts');
  return {
    ...own,
    publishFile: (file: string, text: string) =>
      blocked.file !== '' && file.endsWith(blocked.file)
        ? refuse('target', 'there is no permission to write here.', 'Mend that.', { file })
        : own.publishFile(file, text),
  };
});

const toMark: DraftEdit = { kind: 'mean', block: 'FLOOR', things: [6], means: 'MARK' };

function refusedBy(draft: TestDraft, edit: DraftEdit): string[] {
  try {
    draft.edit(edit);
    return [];
  } catch (error) {
    if (error instanceof Refusal) return error.findings.map(({ rule }) => rule);
    throw error;
  }
}

function asked(draft: TestDraft, root: string): string[] {
  const { draft: now } = draft.kept();
  return questionsOf(now, contextOf(now.said, join(root, 'shared')))
    .filter(({ severity }) => severity !== 'note')
    .map(({ rule, key }) => key ?? rule);
}

describe('nothing of a person is lost at the desk', () => {
  it('a drawing in doubtful units is not written anew until they are settled', async () => {
    const lid = dxf({
      header: [
        [9, '$INSUNITS'],
        [70, 1],
      ],
      entities: [
        lwpolyline(
          [
            [0, 0, 0],
            [10, 0, 0],
            [10, 8, 0],
            [0, 8, 0],
          ],
          true,
        ),
      ],
    });
    const files: Files = {
      ...replaced(
        wren,
        setFile,
        'seams:',
        '  lid: { side: left, file: lid.dxf, material: loop, edge: bound }\nseams:',
      ),
      'patterns/wren/lid.dxf': lid,
    };
    await inFolder(files, (root) => {
      const draft = openTestDraft(root);
      expect(refusedBy(draft, toMark)).toContain('units-conflict');
      expect(draft.text('wren.dxf')).toBe(String(wren[drawingFile]));
      expect(existsSync(join(draft.folder, 'received'))).toBe(false);
    });
  });

  it('what is drawn in the sheet over a piece is told, and kept and asked about by the desk', async () => {
    const blocks = wrenBlocks();
    const names = [...new Set(blocks.flatMap((one) => one.entities.map(({ layer }) => layer)))];
    const sheet = writeR12({
      layers: [...names, 'RED'].sort().map((name) => ({ name, colour: 7 })),
      blocks,
      inserts: blocks.map(({ name }) => ({ block: name, layer: 'OUTLINE', at: { x: 0, y: 0 } })),
      entities: [{ kind: 'path', layer: 'RED', line: 0, path: hole(0, 300, 20) }],
    });
    await inFolder({ ...wren, [drawingFile]: sheet }, (root) => {
      const draft = openTestDraft(root);
      expect(asked(draft, root)).toEqual(['in-no-block']);
      draft.edit(toMark);
      expect(asked(draft, root)).toContain('left-out');
      const { blocks: kept } = draft.kept().draft;
      expect(kept.find(({ name }) => name === 'LEFT-OUT')?.entities).toHaveLength(1);
    });
  });

  it('a piece that is said to be none is asked about once more', async () => {
    await inFolder(wren, (root) => {
      const draft = openTestDraft(root);
      draft.edit({ kind: 'drop-piece', piece: 'rest' });
      expect(asked(draft, root)).toContain('left-out');
    });
  });

  it('what is done in the vehicle, of which the desk asks nothing, is kept with all that is changed', async () => {
    const onSite = 'onSite: { bolt: { do: pierce it, size: 12 } }';
    const files = replaced(
      wren,
      setFile,
      'material: loop, edge: raw',
      `material: loop, ${onSite}, edge: raw`,
    );
    await inFolder(files, (root) => {
      const draft = openTestDraft(root);
      draft.edit({ kind: 'pieces', pieces: ['cover'], values: { quantity: 2 }, answered: [] });
      draft.edit({ kind: 'rename', piece: 'cover', to: 'lid' });
      const { lid } = draft.kept().draft.said.pieces;
      expect(lid).toMatchObject({ quantity: 2, onSite: { bolt: { do: 'pierce it', size: 12 } } });
    });
  });

  it('a reason that was given for other things is asked about again', async () => {
    await inFolder(wren, (root) => {
      const draft = openTestDraft(root);
      expect(asked(draft, root)).toEqual([]);
      draft.edit({ kind: 'mean', block: 'FLOOR', things: [5], means: 'CUTOUT' });
      expect(asked(draft, root)).toContain('decided');
      draft.edit({ kind: 'pieces', pieces: ['floor'], values: {}, answered: ['decided'] });
      expect(asked(draft, root)).not.toContain('decided');
    });
  });

  it('a step of which one file cannot be written is taken back whole', async () => {
    await inFolder(wren, (root) => {
      const draft = openTestDraft(root);
      draft.edit(toMark);
      const before = [draft.text(setFileName), draft.text('wren.dxf')];
      blocked.file = setFileName;
      try {
        expect(refusedBy(draft, { kind: 'drop-piece', piece: 'cover' })).toEqual(['target']);
      } finally {
        blocked.file = '';
      }
      expect([draft.text(setFileName), draft.text('wren.dxf')]).toEqual(before);
      const { history } = draft.restart();
      expect(history.done).toHaveLength(1);
      draft.undo();
      expect(draft.text('wren.dxf')).toBe(String(wren[drawingFile]));
    });
  });

  it('a side that contradicts the place of all pieces is an error', async () => {
    await inFolder(replaced(wren, setFile, 'pieces:', 'at: [0, 0]\npieces:'), (root) => {
      const draft = openTestDraft(root);
      expect(asked(draft, root)).toEqual([]);
      const text = draft.text(setFileName).replace('cover: { side: left', 'cover: { side: right');
      writeFileSync(join(draft.folder, setFileName), text);
      expect(asked(draft, root)).toContain('drawn-elsewhere');
    });
  });
});
