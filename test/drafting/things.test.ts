import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { hole, line, on, outline } from '../../patterns/fenlark/pen.ts';
import type { Entity } from '../../src/drawing/drawing.ts';
import { pathOfEntity } from '../../src/drawing/entity-of.ts';
import { bothHands } from '../../src/drafting/both-hands.ts';
import type { AddedShape } from '../../src/drafting/draft-edit.ts';
import { contextOf } from '../../src/drafting/edit-context.ts';
import { otherHalves } from '../../src/drafting/halves.ts';
import { readDraft } from '../../src/drafting/read-draft.ts';
import { questionsOf } from '../../src/drafting/questions.ts';
import { pieceViews } from '../../src/drafting/view.ts';
import { areaOf } from '../../src/geometry/paths/area.ts';
import { centreOf } from '../../src/geometry/paths/box.ts';
import { boxOfPath } from '../../src/geometry/paths/path.ts';
import { deriveParts } from '../../src/handing/derive.ts';
import { orderSchema } from '../../src/handing/order.ts';
import { readMaterials } from '../../src/pattern/shop/material.ts';
import { readSet } from '../../src/pattern/set.ts';
import { roundedOblong } from '../../src/web/page/drafting/things/placing.ts';
import type { Files } from '../support/wren.ts';
import { drawingFile, drawingText, inFolder, setFile, wren, wrenBlocks } from '../support/wren.ts';
import type { TestDraft } from './drafting.ts';
import { openTestDraft } from './drafting.ts';

const contour = (mirrored: 1 | -1, x: number): Entity[] =>
  on(
    'OUTLINE',
    mirrored === 1
      ? outline([x, 0], [x + 300, 0], [x + 260, 500], [x, 400])
      : outline([x, 0], [x, 400], [x - 260, 500], [x - 300, 0]),
  );

/** Symmetrical in x = 300, with an AXIS 5 mm beside that, and things on layer 0 as a customer draws them. */
const tunnel = [
  ...on('OUTLINE', outline([100, 0], [500, 0], [440, 600], [160, 600])),
  ...on('AXIS', line([305, -20], [305, 620])),
  ...on('0', hole(200, 100, 12), hole(400, 100, 12)),
  ...on('0', line([250, 0], [250, 6])),
];

const customer: Files = {
  ...wren,
  [setFile]: `title: Two sides and a tunnel
drawn: RHD
units: mm
drawing: wren.dxf
pile: rearward
at: [0, 0]
pieces:
  tunnel: { side: centre, material: loop, edge: raw }
  side-left: { side: left, material: loop, edge: raw, open: { side: its name says so } }
  side-right: { side: right, material: loop, edge: raw, open: { side: its name says so } }
`,
  [drawingFile]: drawingText([
    { name: 'TUNNEL', entities: tunnel },
    { name: 'SIDE-LEFT', entities: [...contour(1, 0), ...on('0', hole(100, 100, 12))] },
    { name: 'SIDE-RIGHT', entities: contour(-1, 900) },
  ]),
};

const shared = (root: string): string => join(root, 'shared');

function asked(draft: TestDraft, root: string) {
  const now = draft.kept().draft;
  return questionsOf(now, contextOf(now.said, shared(root)));
}

function layersIn(draft: TestDraft, name: string): string[] {
  const block = draft.kept().draft.blocks.find((one) => one.name === name)!;
  return block.entities.map(({ layer }) => layer);
}

describe('what a thing is', () => {
  it('is guessed where nothing says it, and asked once for all that look alike', async () => {
    await inFolder(customer, (root) => {
      const draft = openTestDraft(root);
      const { draft: now } = draft.kept();
      const context = contextOf(now.said, shared(root));
      const views = pieceViews(now, readDraft(now, shared(root)), context);
      const [first, , left, right, notch] = views[0]!.things;
      expect(first!.guesses).toEqual([]);
      expect(left!.guesses[0]).toMatchObject({ role: 'HOLE', isLikely: true });
      expect(notch!.guesses[0]).toMatchObject({ role: 'NOTCH', isLikely: true });
      expect(notch!.guesses[0]!.words).toContain('6 mm long');
      expect(right!.alike).toBe(left!.alike);
      expect(views[1]!.things[1]!.alike).toBe(left!.alike);
      expect(notch!.alike).not.toBe(left!.alike);
      const unsaid = asked(draft, root).filter(({ rule }) => rule === 'unknown-layer');
      expect(unsaid.map(({ piece, things }) => [piece, things])).toEqual([
        ['tunnel', [2, 3]],
        ['tunnel', [4]],
        ['side-left', [1]],
      ]);
    });
  });

  it('may be a piece of its own where it lies in a cutout', async () => {
    const files: Files = {
      ...customer,
      [drawingFile]: drawingText([
        {
          name: 'TUNNEL',
          entities: [
            ...tunnel,
            ...on('CUTOUT', outline([200, 200], [400, 200], [400, 400], [200, 400])),
            ...on('0', outline([250, 250], [350, 250], [350, 350], [250, 350])),
          ],
        },
        { name: 'SIDE-LEFT', entities: contour(1, 0) },
        { name: 'SIDE-RIGHT', entities: contour(-1, 900) },
      ]),
    };
    await inFolder(files, (root) => {
      const draft = openTestDraft(root);
      const nested = asked(draft, root).filter(({ message }) => message.includes('in a cutout'));
      expect(nested.map(({ piece, things }) => [piece, things.length])).toEqual([['tunnel', 1]]);
      draft.edit({
        kind: 'begin-piece',
        block: 'TUNNEL',
        outline: nested[0]!.things[0]!,
        piece: 'lip',
      });
      const lip = readDraft(draft.kept().draft, shared(root)).pieces.find(
        ({ name }) => name === 'lip',
      );
      expect(areaOf(lip!.outline)).toBeCloseTo(100 * 100, 6);
    });
  });

  it('is said for things of several pieces in one step', async () => {
    await inFolder(customer, (root) => {
      const draft = openTestDraft(root);
      draft.edit({
        kind: 'mean',
        block: 'TUNNEL',
        things: [2, 3],
        means: 'HOLE',
        also: [{ block: 'SIDE-LEFT', things: [1] }],
      });
      expect(layersIn(draft, 'TUNNEL')).toEqual(['OUTLINE', 'AXIS', 'HOLE', 'HOLE', '0']);
      expect(layersIn(draft, 'SIDE-LEFT')).toEqual(['OUTLINE', 'HOLE']);
      draft.undo();
      expect(layersIn(draft, 'TUNNEL')).not.toContain('HOLE');
      expect(layersIn(draft, 'SIDE-LEFT')).not.toContain('HOLE');
    });
  });
});

describe('a thing on the floor of the wren', () => {
  // The hole of the drain at 100, 100.
  const floor = wrenBlocks()[0]!.entities;
  const drain = floor.findIndex((entity) => {
    if (entity.kind !== 'path' || entity.layer !== 'HOLE') return false;
    const { x, y } = centreOf(boxOfPath(entity.path));
    return Math.abs(x - 100) < 0.01 && Math.abs(y - 100) < 0.01;
  });

  it('is seen for both hands before it is said whom it follows, and is cut there', async () => {
    await inFolder(wren, (root) => {
      const draft = openTestDraft(root);
      const { draft: now } = draft.kept();
      const found = bothHands(
        now,
        readDraft(now, shared(root)),
        contextOf(now.said, shared(root)),
        {
          piece: 'floor',
          things: [drain],
          follows: [null, 'DRIVER'],
        },
      );
      const where = found.map(({ pictures }) => pictures.map((one) => [one.hand, ...one.where]));
      expect(where).toEqual([
        [
          ['RHD', '100 mm right of the centreline'],
          ['LHD', '100 mm right of the centreline'],
        ],
        [
          ['RHD', '100 mm right of the centreline'],
          ['LHD', '100 mm left of the centreline'],
        ],
      ]);
      expect(draft.kept().history.done).toEqual([]);

      draft.edit({ kind: 'mean', block: 'FLOOR', things: [drain], means: 'HOLE-DRIVER' });
      const patterns = readSet(draft.folder, shared(root));
      const order = orderSchema.parse({ order: 'A', set: 'wren', hand: 'LHD' });
      const materials = readMaterials(patterns.materials, shared(root));
      const { parts } = deriveParts(patterns, order, materials);
      const holes = parts
        .find(({ name }) => name === 'floor')!
        .inner.map(({ path }) => centreOf(boxOfPath(path)))
        .filter(({ y }) => Math.abs(y - 100) < 0.01);
      expect(holes).toHaveLength(1);
      expect(holes[0]!.x).toBeCloseTo(-100, 6);
    });
  });

  it('goes with somebody together with other things, each of which stays what it is', async () => {
    await inFolder(wren, (root) => {
      const draft = openTestDraft(root);
      const add = { kind: 'add', block: 'FLOOR' } as const;
      const shape = (x: number): AddedShape => ({ kind: 'circle', at: [x, 500], diameter: 40 });
      draft.edit({ ...add, means: 'CUTOUT-LEFT', shape: shape(-200) });
      draft.edit({ ...add, means: 'MARK', shape: shape(-100) });
      draft.edit({ ...add, means: 'NOTE', shape: { kind: 'text', at: [0, 500], text: 'drain' } });
      const all = layersIn(draft, 'FLOOR').length;
      const things = [drain, all - 3, all - 2, all - 1];
      draft.edit({ kind: 'follow', piece: 'floor', things, follows: 'DRIVER' });
      const layers = layersIn(draft, 'FLOOR');
      expect(things.map((i) => layers[i])).toEqual([
        'HOLE-DRIVER',
        'CUTOUT-DRIVER',
        'MARK-DRIVER',
        'NOTE',
      ]);
      draft.edit({ kind: 'follow', piece: 'floor', things, follows: null });
      expect(things.map((i) => layersIn(draft, 'FLOOR')[i])).toEqual([
        'HOLE',
        'CUTOUT',
        'MARK',
        'NOTE',
      ]);
    });
  });

  it('tells that a thing of a pair is on both halves, or on the driver’s alone', async () => {
    await inFolder(wren, (root) => {
      const { draft: now } = openTestDraft(root).kept();
      const mat = wrenBlocks()[2]!.entities;
      const cable = mat.findIndex(({ layer }) => layer.startsWith('HOLE'));
      const found = bothHands(
        now,
        readDraft(now, shared(root)),
        contextOf(now.said, shared(root)),
        {
          piece: 'mat',
          things: [cable],
          follows: [null, 'DRIVER'],
        },
      );
      expect(found.map(({ pictures }) => pictures.map(({ where }) => where.length))).toEqual([
        [2, 2],
        [1, 1],
      ]);
      const sides = found[1]!.pictures.map(({ where }) => where[0]!.includes('right'));
      expect(sides).toEqual([true, false]);
    });
  });
});

describe('what is added', () => {
  it('has arcs at the corners of an oblong', async () => {
    await inFolder(wren, (root) => {
      const draft = openTestDraft(root);
      const shape = roundedOblong([0, 500], { width: 120, height: 80, radius: 15 });
      draft.edit({ kind: 'add', block: 'FLOOR', means: 'CUTOUT', shape });
      const added = draft
        .kept()
        .draft.blocks.find(({ name }) => name === 'FLOOR')!
        .entities.at(-1)!;
      // Each corner lacks what a square of 15 has and a quarter of a circle has not.
      expect(areaOf(pathOfEntity(added))).toBeCloseTo(120 * 80 - (4 - Math.PI) * 15 * 15, 3);
      const { minX, minY, maxX, maxY } = boxOfPath(pathOfEntity(added));
      expect([minX, minY, maxX, maxY].map((one) => Math.round(one))).toEqual([-60, 460, 60, 540]);
    });
  });

  it('is copied to the other side of a line', async () => {
    await inFolder(customer, (root) => {
      const draft = openTestDraft(root);
      draft.edit({
        kind: 'copy',
        block: 'SIDE-LEFT',
        things: [1],
        by: [0, 20],
        mirror: [
          [150, 0],
          [150, 100],
        ],
      });
      const { entities } = draft.kept().draft.blocks.find(({ name }) => name === 'SIDE-LEFT')!;
      const { x, y } = centreOf(boxOfPath(pathOfEntity(entities.at(-1)!)));
      // 100 is 50 left of the line: its image is 50 right of it.
      expect([x, y].map((one) => Math.round(one * 1000) / 1000)).toEqual([200, 120]);
    });
  });
});

describe('a centreline', () => {
  it('goes to the middle of an outline that is symmetrical', async () => {
    await inFolder(customer, (root) => {
      const draft = openTestDraft(root);
      expect(asked(draft, root).map(({ rule }) => rule)).toContain('axis-off-middle');
      draft.edit({ kind: 'axis', piece: 'tunnel', line: 'middle' });
      const { entities } = draft.kept().draft.blocks.find(({ name }) => name === 'TUNNEL')!;
      const drawn = pathOfEntity(entities.find(({ layer }) => layer === 'AXIS')!).vertices;
      expect(drawn.map(({ x }) => x)).toEqual([expect.closeTo(300, 3), expect.closeTo(300, 3)]);
      expect(drawn[1]!.y).toBeGreaterThan(drawn[0]!.y);
      expect(asked(draft, root).map(({ rule }) => rule)).not.toContain('axis-off-middle');
    });
  });

  it('is refused where nothing shows the middle', async () => {
    await inFolder(customer, (root) => {
      const draft = openTestDraft(root);
      const edit = { kind: 'axis', piece: 'side-left', line: 'middle' } as const;
      expect(() => draft.edit(edit)).toThrow(/not symmetrical/);
    });
  });
});

describe('two halves of a pair', () => {
  it('are held against each other, asked about once, and become one piece', async () => {
    await inFolder(customer, (root) => {
      const draft = openTestDraft(root);
      const pieces = readDraft(draft.kept().draft, shared(root)).pieces;
      const [half, ...more] = otherHalves(pieces, 'side-left');
      expect(more).toEqual([]);
      expect(half).toMatchObject({ other: 'side-right' });
      expect(half!.off).toBeLessThan(0.05);
      expect(otherHalves(pieces, 'tunnel')).toEqual([]);
      const sides = (): (string | null)[] =>
        asked(draft, root).flatMap(({ key, piece }) => (key === 'side' ? [piece] : []));
      expect(sides()).toEqual(['side-left']);
      draft.edit({ kind: 'pair', piece: 'side-left', other: 'side-right' });
      expect(sides()).toEqual([]);
      const { said } = draft.kept().draft;
      expect(Object.keys(said.pieces)).toEqual(['tunnel', 'side-left']);
      expect(said.pieces['side-left']).toMatchObject({
        side: 'pair',
        drawnSide: 'left',
        other: 'SIDE-RIGHT',
      });
    });
  });
});
