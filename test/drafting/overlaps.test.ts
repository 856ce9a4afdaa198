import { describe, expect, it } from 'vitest';
import { on, outline } from '../../patterns/fenlark/pen.ts';
import { overlapsOf } from '../../src/drafting/overlaps.ts';
import { readDraft } from '../../src/drafting/read-draft.ts';
import { drawingFile, drawingText, inFolder, setFile, wren } from '../support/wren.ts';
import { openTestDraft } from './drafting.ts';

const plate = (name: string, x: number, y: number, width: number, height: number) => ({
  name,
  entities: on(
    'OUTLINE',
    outline([x, y], [x + width, y], [x + width, y + height], [x, y + height]),
  ),
});

const files = {
  ...wren,
  [setFile]: `title: Plates
drawn: RHD
units: mm
drawing: wren.dxf
at: [0, 0]
pieces:
  base: { side: centre, material: loop }
  beside: { side: right, material: loop }
  mat: { side: pair, drawnSide: right, material: loop }
  left: { side: left, material: loop }
`,
  [drawingFile]: drawingText([
    plate('BASE', -300, 0, 600, 400),
    // It shares an edge with the base, and no more.
    plate('BESIDE', 300, 0, 200, 400),
    plate('MAT', 50, 600, 200, 100),
    // Where the other half of the mat comes to lie.
    plate('LEFT', -250, 650, 100, 200),
  ]),
};

describe('pieces that lie on each other in the vehicle', () => {
  it('are told with the place, also those that the other half of a pair lies on', async () => {
    await inFolder(files, (root) => {
      const draft = openTestDraft(root);
      const told = () => overlapsOf(readDraft(draft.kept().draft, `${root}/shared`).pieces);
      const near = (...box: number[]) => box.map((mm) => expect.closeTo(mm, 0));
      expect(told()).toEqual([{ pieces: ['mat', 'left'], box: near(-250, 650, -150, 700) }]);

      // The mat is dragged onto the base, and its halves onto each other.
      draft.edit({ kind: 'place', piece: 'mat', to: [null, null], by: [-100, -300] });
      expect(told()).toEqual([
        { pieces: ['base', 'mat'], box: near(-50, 300, 150, 400) },
        { pieces: ['mat', 'mat'], box: near(-50, 300, 50, 400) },
      ]);
    });
  });
});
