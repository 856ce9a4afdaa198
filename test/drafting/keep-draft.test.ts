import { appendFileSync, existsSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { Refusal } from '../../src/base/findings.ts';
import type { Block } from '../../src/drawing/drawing.ts';
import { openDraft, setFileName } from '../../src/drafting/draft.ts';
import type { DraftEdit } from '../../src/drafting/draft-edit.ts';
import { contextOf } from '../../src/drafting/edit-context.ts';
import { editDraft, historyIn } from '../../src/drafting/keep-draft.ts';
import { historyFile } from '../../src/publishing/history/history.ts';
import { readSet } from '../../src/pattern/set.ts';
import { areaOf } from '../../src/geometry/paths/area.ts';
import { randomFrom } from '../support/random.ts';
import { tries } from '../support/thorough.ts';
import type { Files } from '../support/wren.ts';
import { inFolder, replaced, setFile, wren } from '../support/wren.ts';
import { openTestDraft, withoutLines } from './drafting.ts';

const commented: Files = replaced(
  wren,
  setFile,
  'pieces:',
  '# How the shop calls them.\npieces: # five',
);

const side: DraftEdit = {
  kind: 'pieces',
  pieces: ['cover'],
  values: { side: 'right' },
  answered: [],
};
const toMark: DraftEdit = { kind: 'mean', block: 'FLOOR', things: [6], means: 'MARK' };

function rulesOf(work: () => unknown): string[] {
  try {
    work();
  } catch (error) {
    if (error instanceof Refusal) return error.findings.map(({ rule }) => rule);
    throw error;
  }
  return [];
}

describe('a draft', () => {
  it('changes one line of the set file and leaves every comment', async () => {
    await inFolder(commented, (root) => {
      const draft = openTestDraft(root);
      const before = draft.text(setFileName).split('\n');
      draft.edit(side);
      const after = draft.text(setFileName).split('\n');
      const changed = after.filter((line, i) => line !== before[i]);
      expect(changed).toHaveLength(1);
      expect(changed[0]).toContain('cover: { side: right');
      expect(after.join('\n')).toContain('# How the shop calls them.\npieces: # five');
    });
  });

  it('leaves a drawing alone while only the set file is changed', async () => {
    await inFolder(wren, (root) => {
      const draft = openTestDraft(root);
      const before = draft.text('wren.dxf');
      draft.edit(side);
      expect(draft.text('wren.dxf')).toBe(before);
      expect(existsSync(join(draft.folder, 'received'))).toBe(false);
    });
  });

  it('keeps the drawing as it came before it writes its own, in which every piece is the same', async () => {
    await inFolder(wren, (root) => {
      const shared = join(root, 'shared');
      const draft = openTestDraft(root);
      const came = draft.text('wren.dxf');
      const before = readSet(draft.folder, shared);
      draft.edit(toMark);
      expect(draft.text('received/wren.dxf')).toBe(came);
      const after = readSet(draft.folder, shared);
      expect(after.findings.filter(({ severity }) => severity === 'error')).toEqual([]);
      expect(after.pieces.map(({ name }) => name)).toEqual(before.pieces.map(({ name }) => name));
      for (const [i, piece] of after.pieces.entries()) {
        const old = before.pieces[i]!;
        expect(areaOf(piece.outline)).toBeCloseTo(areaOf(old.outline), 6);
        const layers = piece.features.map(({ role, follows }) => `${role} ${follows}`);
        const oldLayers = old.features.map(({ role, follows }) => `${role} ${follows}`);
        const isChanged = piece.name === 'floor';
        expect(layers.length).toBe(oldLayers.length);
        if (!isChanged) expect(layers).toEqual(oldLayers);
      }
    });
  });

  it('takes back every step to the bytes before it, and does it again, also after a restart', async () => {
    await inFolder(commented, (root) => {
      const draft = openTestDraft(root);
      const states = [[draft.text(setFileName), draft.text('wren.dxf')]];
      const steps: DraftEdit[] = [
        side,
        toMark,
        { kind: 'rename', piece: 'mat', to: 'carpet-mat' },
        { kind: 'remove', block: 'REST', things: [1] },
        {
          kind: 'axis',
          piece: 'rest',
          line: [
            [0, 0],
            [0, 100],
          ],
        },
        { kind: 'drop-piece', piece: 'cover' },
      ];
      for (const step of steps) {
        draft.edit(step);
        states.push([draft.text(setFileName), draft.text('wren.dxf')]);
      }
      draft.restart();
      for (const state of states.slice(0, -1).toReversed()) {
        draft.undo();
        expect([draft.text(setFileName), draft.text('wren.dxf')]).toEqual(state);
      }
      expect(rulesOf(draft.undo)).toEqual(['draft']);
      draft.restart();
      for (const state of states.slice(1)) {
        draft.redo();
        expect([draft.text(setFileName), draft.text('wren.dxf')]).toEqual(state);
      }
      expect(rulesOf(draft.redo)).toEqual(['draft']);
    });
  });

  it('refuses an edit of files that an editor changed, keeps that change, and can take it back', async () => {
    await inFolder(commented, (root) => {
      const draft = openTestDraft(root);
      const { draft: known } = draft.edit(side);
      const byHand = draft.text(setFileName).replace('Wren van, cab', 'Wren, by hand');
      writeFileSync(join(draft.folder, setFileName), byHand);
      const context = contextOf(known.said, join(root, 'shared'));
      expect(rulesOf(() => editDraft(draft.kept(), known.version, side, context))).toEqual([
        'changed-since',
      ]);
      expect(draft.text(setFileName)).toBe(byHand);
      draft.edit({ kind: 'pieces', pieces: ['rest'], values: { quantity: 2 }, answered: [] });
      expect(draft.text(setFileName)).toContain('Wren, by hand');
      draft.undo();
      expect(draft.text(setFileName)).toBe(byHand);
      draft.undo();
      expect(draft.text(setFileName)).toContain('Wren van, cab');
    });
  });

  it('finishes a step that was cut off between two files', async () => {
    await inFolder(wren, (root) => {
      const draft = openTestDraft(root);
      draft.edit(toMark);
      const before = [draft.text(setFileName), draft.text('wren.dxf')] as const;
      draft.edit({ kind: 'drop-piece', piece: 'cover' });
      const after = [draft.text(setFileName), draft.text('wren.dxf')];
      // As after a power cut: the drawing is written, the set file is not.
      writeFileSync(join(draft.folder, setFileName), before[0]);
      draft.restart();
      expect([draft.text(setFileName), draft.text('wren.dxf')]).toEqual(after);
      draft.undo();
      expect([draft.text(setFileName), draft.text('wren.dxf')]).toEqual(before);
    });
  });

  it('passes over a line of its history that was cut off', async () => {
    await inFolder(wren, (root) => {
      const draft = openTestDraft(root);
      draft.edit(side);
      appendFileSync(historyFile(historyIn(draft.folder)), '{"did":{"words":"half a li');
      draft.restart();
      draft.edit({ kind: 'pieces', pieces: ['rest'], values: { quantity: 2 }, answered: [] });
      draft.restart();
      draft.undo();
      draft.undo();
      expect(draft.text(setFileName)).toBe(String(wren[setFile]));
    });
  });

  it('writes nothing where the set could not be read after an edit', async () => {
    await inFolder(wren, (root) => {
      const draft = openTestDraft(root);
      const before = draft.text(setFileName);
      const wrong: DraftEdit[] = [
        { kind: 'pieces', pieces: ['cover'], values: { side: 'above' }, answered: [] },
        { kind: 'pieces', pieces: ['cover'], values: { quantity: 0 }, answered: [] },
        { kind: 'pieces', pieces: ['cover'], values: { side: 'pair' }, answered: [] },
        { kind: 'pieces', pieces: ['hood'], values: { quantity: 2 }, answered: [] },
        { kind: 'rename', piece: 'cover', to: 'floor' },
        { kind: 'rename', piece: 'cover', to: 'The Cover' },
        { kind: 'mean', block: 'FLOOR', things: [99], means: 'MARK' },
        { kind: 'mean', block: 'FLOOR', things: [1], means: 'CARPET' },
        { kind: 'begin-piece', block: 'FLOOR', outline: 1, piece: 'new' },
        { kind: 'pair', piece: 'cover', other: 'cover' },
      ];
      for (const edit of wrong) expect(rulesOf(() => draft.edit(edit))).not.toEqual([]);
      expect(draft.text(setFileName)).toBe(before);
      expect(existsSync(historyFile(historyIn(draft.folder)))).toBe(false);
    });
  });
});

/** A random edit of what is there. */
function randomEdit(blocks: readonly Block[], pieces: readonly string[], seed: number): DraftEdit {
  const random = randomFrom(seed);
  const block = random.pick(blocks.filter(({ entities }) => entities.length > 1));
  const things = [1 + random.below(block.entities.length - 1)];
  const piece = random.pick(pieces);
  const at: [number, number] = [random.below(1000) / 7, random.below(1000) / 3];
  return random.pick<DraftEdit>([
    { kind: 'mean', block: block.name, things, means: random.pick(['MARK', 'NOTE', 'FOLD-LEFT']) },
    { kind: 'remove', block: block.name, things },
    { kind: 'move', block: block.name, things, by: at },
    {
      kind: 'add',
      block: block.name,
      means: 'HOLE-DRIVER',
      shape: { kind: 'circle', at, diameter: 12.7 },
    },
    { kind: 'add', block: block.name, means: 'HOLE', shape: { kind: 'point', at } },
    {
      kind: 'add',
      block: block.name,
      means: 'NOTE',
      shape: { kind: 'text', at, text: 'Ümlaut "q" \\U+0041' },
    },
    { kind: 'give', block: block.name, things, piece },
    { kind: 'turn', piece, quarters: 1 + random.below(3) },
    { kind: 'axis', piece, line: [at, [at[0], at[1] + 50]] },
    { kind: 'pieces', pieces: [piece], values: { at, covered: 'the sill: left #1' }, answered: [] },
    {
      kind: 'pieces',
      pieces: [piece],
      values: {
        title: `Foot "rest" ${seed}`,
        stitched: 'the foam: behind it',
        board: { material: 'board', inset: 2, wraps: 'tuck' },
      },
      answered: [],
    },
    { kind: 'set', values: { title: `Wren "${seed}"`, pile: at[0] }, answered: [] },
    { kind: 'layer', layer: 'ROT', means: 'NOTE', piece: random.pick([null, piece]) },
    { kind: 'rename', piece, to: `${piece}-${seed % 10}` },
  ]);
}

describe('any edits, one after the other', () => {
  it('leave files that are read as just what is shown, and all go back', async () => {
    for (let seed = 1; seed <= tries(4, 25); seed++) {
      await inFolder(commented, (root) => {
        const draft = openTestDraft(root);
        const states: string[] = [];
        for (let i = 0; i < 12; i++) {
          const { draft: now } = draft.kept();
          states.push(draft.text(setFileName) + draft.text('wren.dxf'));
          const pieces = Object.keys(now.said.pieces);
          const { draft: next } = draft.edit(randomEdit(now.blocks, pieces, seed * 100 + i));
          const read = openDraft(draft.folder);
          expect(read.version).toBe(next.version);
          expect(read.said).toEqual(next.said);
          expect(read.hasOwnDrawing).toBe(next.hasOwnDrawing);
          if (next.hasOwnDrawing)
            expect(withoutLines(read.blocks)).toEqual(withoutLines(next.blocks));
        }
        for (const state of states.toReversed()) {
          if (draft.text(setFileName) + draft.text('wren.dxf') === state) continue;
          draft.undo();
          expect(draft.text(setFileName) + draft.text('wren.dxf')).toBe(state);
        }
      });
    }
  });
});

it('a text of a drawing in another script is kept to the byte', async () => {
  const file = 'patterns/wren/wren.dxf';
  const odd = Buffer.from(String(wren[file]).replace('  0\nEOF', '999\nñ\n  0\nEOF'), 'utf8');
  await inFolder({ ...wren, [file]: new Uint8Array(odd) }, (root) => {
    const draft = openTestDraft(root);
    draft.edit(toMark);
    expect(readFileSync(join(draft.folder, 'received/wren.dxf')).equals(odd)).toBe(true);
    draft.undo();
    expect(readFileSync(join(draft.folder, 'wren.dxf')).equals(odd)).toBe(true);
  });
});
