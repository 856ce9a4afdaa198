import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { hole, line, on, outline } from '../../../../patterns/fenlark/pen.ts';
import { contextOf } from '../../../../src/drafting/edit-context.ts';
import { shownContent } from '../../../../src/drafting/keep-draft.ts';
import { readDraft } from '../../../../src/drafting/read-draft.ts';
import type { PieceView } from '../../../../src/drafting/view.ts';
import { pieceViews } from '../../../../src/drafting/view.ts';
import { foreseen } from '../../../../src/web/page/drafting/foreseen.ts';
import type { SentEdit } from '../../../../src/web/page/server/calls.ts';
import { drawingFile, drawingText, inFolder, setFile, wren } from '../../../support/wren.ts';
import { openTestDraft } from '../../../drafting/drafting.ts';

const mat = [
  ...on('OUTLINE', outline([0, 0], [500, 0], [500, 400], [0, 400])),
  ...on('0', hole(100, 100, 12), hole(400, 100, 12), line([250, 0], [250, 6])),
];

const files = {
  ...wren,
  [setFile]: `title: Two mats
drawn: RHD
units: mm
drawing: wren.dxf
pile: rearward
at: [0, 0]
pieces:
  mat: { side: left, material: loop }
  lid: { side: right, material: loop }
`,
  [drawingFile]: drawingText([
    { name: 'MAT', entities: mat },
    { name: 'LID', entities: mat },
  ]),
};

/** What the page shows of a piece that somebody can choose: what things are, and what happens to edges. */
function shown({ things, stretches }: PieceView) {
  return {
    things: things.map(({ means, role, guesses, alike }) => ({ means, role, guesses, alike })),
    stretches: stretches.map(({ kind, saidBy, hiddenBy }) => ({ kind, saidBy, hiddenBy })),
  };
}

/** All pieces as they are before an edit, as the page shows them at once, and as the files then have them. */
function shownAfter(edit: (pieces: readonly PieceView[]) => SentEdit) {
  return inFolder(files, (root) => {
    const draft = openTestDraft(root);
    const views = (): PieceView[] => {
      const { draft: now } = draft.kept();
      const context = contextOf(now.said, join(root, 'shared'));
      return pieceViews(shownContent(now, context), readDraft(now, join(root, 'shared')), context);
    };
    const before = views();
    const done = edit(before);
    draft.edit(done as Parameters<typeof draft.edit>[0]);
    return {
      before: before.map(shown),
      atOnce: before.map((piece) => shown(foreseen(piece, done))),
      after: views().map(shown),
    };
  });
}

describe('what is shown at once', () => {
  it('of things that are said to be something is what the files then say', async () => {
    const { before, atOnce, after } = await shownAfter(() => ({
      kind: 'mean',
      block: 'MAT',
      things: [1, 2],
      means: 'HOLE-DRIVER',
      also: [{ block: 'LID', things: [1] }],
    }));
    expect(before).not.toEqual(after);
    expect(atOnce).toEqual(after);
    expect(atOnce[0]!.things.map(({ role }) => role)).toEqual(['OUTLINE', 'HOLE', 'HOLE', null]);
  });

  it.each([
    { edge: 'bound', under: undefined },
    { edge: 'raw', under: 'the sill plate' },
    { edge: 'tuck', under: 'the seat' },
  ] as const)('of an edge that is $edge is what the files then say', async ({ edge, under }) => {
    const { before, atOnce, after } = await shownAfter(([, lid]) => ({
      kind: 'edge',
      piece: 'lid',
      stretches: [lid!.stretches[1]!, lid!.stretches[2]!].map(({ from, to }) => ({ from, to })),
      edge,
      ...(under === undefined ? {} : { under }),
    }));
    const stretches = (pieces: typeof after) => pieces.map((piece) => piece.stretches);
    expect(stretches(before)).not.toEqual(stretches(after));
    expect(stretches(atOnce)).toEqual(stretches(after));
  });

  it('of anything else is what was there before', async () => {
    const { before, atOnce } = await shownAfter(() => ({
      kind: 'move',
      block: 'MAT',
      things: [1],
      by: [10, 0],
    }));
    expect(atOnce).toEqual(before);
  });
});
