import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { hole, line, on, outline } from '../../patterns/fenlark/pen.ts';
import type { Entity } from '../../src/drawing/drawing.ts';
import { contextOf } from '../../src/drafting/edit-context.ts';
import type { Question } from '../../src/drafting/questions.ts';
import { questionsOf } from '../../src/drafting/questions.ts';
import { readDraft } from '../../src/drafting/read-draft.ts';
import { areaOf } from '../../src/geometry/paths/area.ts';
import type { Files } from '../support/wren.ts';
import { drawingFile, drawingText, inFolder, setFile, wren } from '../support/wren.ts';
import type { TestDraft } from './drafting.ts';
import { openTestDraft } from './drafting.ts';

/** A plate of 500 by 400, drawn as two lines that nearly meet: 12 and 20 mm apart. */
const twoGaps = (layer: string): Entity[] =>
  on(layer, line([0, 12], [0, 400], [480, 400]), line([500, 400], [500, 0], [0, 0]));

function filesOf(pieces: string, blocks: Parameters<typeof drawingText>[0], open = ''): Files {
  return {
    ...wren,
    [setFile]: `title: Plates
drawn: RHD
units: mm
drawing: wren.dxf
${open}pieces:
${pieces}`,
    [drawingFile]: drawingText(blocks),
  };
}

const plate = {
  name: 'PLATE',
  entities: [...twoGaps('OUTLINE'), ...on('HOLE', hole(250, 200, 12))],
};

function asked(draft: TestDraft, root: string): Question[] {
  const { draft: now } = draft.kept();
  return questionsOf(now, contextOf(now.said, join(root, 'shared')));
}

function close(draft: TestDraft, { gap }: Question): void {
  const { block, from, to } = gap!;
  draft.edit({ kind: 'close-gap', block, from: [...from], to: [...to] });
}

describe('a cutout that is drawn as three sides of a box', () => {
  it('is offered to be closed with its fourth side', async () => {
    const sides = on('CUTOUT', line([250, 150], [100, 150], [100, 300], [250, 300]));
    const box = [...on('OUTLINE', outline([0, 0], [500, 0], [500, 400], [0, 400])), ...sides];
    const files = filesOf('  plate: { side: centre, material: loop }\n', [
      { name: 'PLATE', entities: box },
    ]);
    await inFolder(files, (root) => {
      const draft = openTestDraft(root);
      const open = asked(draft, root).find(({ gap }) => gap !== null);
      expect(open!.gap!.size).toBe(150);
      close(draft, open!);
      const { pieces } = readDraft(draft.kept().draft, join(root, 'shared'));
      const cutout = pieces[0]!.features.find(({ role }) => role === 'CUTOUT');
      expect(areaOf(cutout!.path)).toBeCloseTo(150 * 150, 6);
    });
  });
});

describe('a gap in an outline', () => {
  it('is offered to be closed, one by one, and then the piece is read as it was meant', async () => {
    const files = filesOf('  plate: { side: centre, material: loop }\n', [plate]);
    await inFolder(files, (root) => {
      const draft = openTestDraft(root);
      const before = draft.text('wren.dxf');
      const gaps = () => asked(draft, root).filter(({ gap }) => gap !== null);
      expect(gaps().map(({ piece, gap }) => [piece, gap!.size])).toEqual([
        ['plate', 20],
        ['plate', 12],
      ]);
      expect(gaps()[0]!.message).toContain('20 mm');
      close(draft, gaps()[0]!);
      expect(gaps().map(({ gap }) => gap!.size)).toEqual([12]);
      close(draft, gaps()[0]!);
      expect(asked(draft, root).map(({ rule }) => rule)).not.toContain('open-contour');
      const [piece] = readDraft(draft.kept().draft, join(root, 'shared')).pieces;
      expect(areaOf(piece!.outline)).toBeCloseTo(500 * 400, 6);
      expect(piece!.features.filter(({ role }) => role === 'HOLE')).toHaveLength(1);
      expect(draft.text('received/wren.dxf')).toBe(before);
      draft.undo();
      draft.undo();
      expect(draft.text('wren.dxf')).toBe(before);
    });
  });

  it('is not offered where a line is missing, where lines branch, or where one half is drawn', async () => {
    const files = filesOf(
      `  wide: { side: centre, material: loop }
  branch: { side: centre, material: loop }
  half: { side: centre, material: loop, half: true }
`,
      [
        { name: 'WIDE', entities: on('OUTLINE', line([0, 0], [500, 0], [500, 400], [0, 400])) },
        {
          name: 'BRANCH',
          entities: on(
            'OUTLINE',
            line([600, 0], [900, 0], [900, 300]),
            line([900, 300], [600, 300], [600, 0]),
            line([900, 300], [950, 350]),
          ),
        },
        {
          name: 'HALF',
          entities: [
            ...on('OUTLINE', line([0, 600], [20, 600], [20, 640], [0, 640])),
            ...on('AXIS', line([0, 590], [0, 650])),
          ],
        },
      ],
    );
    await inFolder(files, (root) => {
      const questions = asked(openTestDraft(root), root);
      const open = questions.filter(({ rule }) => rule === 'open-contour');
      expect(new Set(open.map(({ piece }) => piece))).toEqual(new Set(['wide', 'branch']));
      expect(questions.filter(({ gap }) => gap !== null)).toEqual([]);
    });
  });

  it('is offered in what lies in no outline, between long lines alone, and makes a piece', async () => {
    const files = filesOf(
      '  base: { side: centre, material: loop }\n',
      [
        {
          name: 'BASE',
          entities: on('OUTLINE', outline([900, 0], [1200, 0], [1200, 300], [900, 300])),
        },
        {
          name: 'LEFT-OUT',
          entities: [
            ...twoGaps('0'),
            ...on('DASHES', line([0, 0], [9, 0]), line([20, 0], [29, 0])),
          ],
        },
      ],
      'open: { left-out: two lines }\n',
    );
    await inFolder(files, (root) => {
      const draft = openTestDraft(root);
      const gaps = () => asked(draft, root).filter(({ gap }) => gap !== null);
      expect(gaps().map(({ piece, gap }) => [piece, gap!.size])).toEqual([
        [null, 12],
        [null, 20],
      ]);
      close(draft, gaps()[0]!);
      close(draft, gaps()[0]!);
      expect(gaps()).toEqual([]);
      const { entities } = draft.kept().draft.blocks.find(({ name }) => name === 'LEFT-OUT')!;
      const outlineAt = entities.findIndex((one) => one.kind === 'path' && one.path.closed);
      draft.edit({ kind: 'begin-piece', block: 'LEFT-OUT', outline: outlineAt, piece: 'plate' });
      const made = readDraft(draft.kept().draft, join(root, 'shared')).pieces.at(-1)!;
      expect([made.name, Math.round(areaOf(made.outline))]).toEqual(['plate', 500 * 400]);
    });
  });
});
