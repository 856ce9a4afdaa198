import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { Refusal } from '../../../src/base/findings.ts';
import type { PieceView } from '../../../src/drafting/view.ts';
import { pieceViews } from '../../../src/drafting/view.ts';
import type { StretchView } from '../../../src/drafting/edge-view.ts';
import { contextOf } from '../../../src/drafting/edit-context.ts';
import { historyFile } from '../../../src/publishing/history/history.ts';
import { historyIn, shownContent } from '../../../src/drafting/keep-draft.ts';
import { questionsOf } from '../../../src/drafting/questions.ts';
import type { Question } from '../../../src/drafting/questions.ts';
import { readDraft } from '../../../src/drafting/read-draft.ts';
import { seamViews } from '../../../src/drafting/seam-view.ts';
import { hiderOf } from '../../../src/handing/carpet.ts';
import { middleOfPath, pathLength } from '../../../src/geometry/paths/path.ts';
import { claimEdges, tracesOf } from '../../../src/pattern/edges.ts';
import { setFileName } from '../../../src/drafting/draft.ts';
import { readSet } from '../../../src/pattern/set.ts';
import type { Files } from '../../support/wren.ts';
import {
  drawingFile,
  drawingText,
  inFolder,
  replaced,
  setFile,
  wren,
  wrenBlocks,
  wrenOptions,
} from '../../support/wren.ts';
import { along, box, on } from '../../../patterns/fenlark/pen.ts';
import { bareWren } from '../bare-wren.ts';
import type { TestDraft } from '../drafting.ts';
import { openTestDraft } from '../drafting.ts';

/** A draft and what the page would see of it. */
interface Desk extends TestDraft {
  readonly views: () => PieceView[];
  readonly piece: (name: string) => PieceView;
  readonly questions: () => Question[];
  /** What is read of a piece's edges from the files, by code that the desk does not use. */
  readonly read: (name: string) => {
    kind: string;
    name: string | null;
    length: number;
    hiddenBy: string | null;
    middle: [number, number];
  }[];
}

async function atDesk(files: Files, work: (desk: Desk) => void): Promise<void> {
  await inFolder(files, (root) => {
    const draft = openTestDraft(root);
    const shared = join(root, 'shared');
    const views = (): PieceView[] => {
      const { draft: now } = draft.kept();
      const context = contextOf(now.said, shared);
      return pieceViews(shownContent(now, context), readDraft(now, shared), context);
    };
    work({
      ...draft,
      views,
      piece: (name) => views().find((one) => one.name === name)!,
      questions: () => {
        const { draft: now } = draft.kept();
        return questionsOf(now, contextOf(now.said, shared));
      },
      read: (name) => {
        const piece = readSet(draft.folder, shared).pieces.find((one) => one.name === name)!;
        const { entry, where, outline, features } = piece;
        const traces = tracesOf(features.filter(({ when }) => when.length === 0));
        return claimEdges(outline, traces, entry.edge ?? null, where).stretches.map((one) => {
          const { x, y } = middleOfPath(one.path);
          return {
            kind: one.kind,
            name: one.name,
            length: Math.round(pathLength(one.path)),
            hiddenBy: hiderOf(entry, one.kind, one.name) ?? null,
            middle: [Math.round(x), Math.round(y)],
          };
        });
      },
    });
  });
}

/** The stretches whose middles lie on a level, or upright: sides of an oblong. */
function onLine(piece: PieceView, axis: 'x' | 'y', at: number): StretchView[] {
  return piece.stretches.filter(({ middle: [x, y] }) => Math.abs((axis === 'x' ? x : y) - at) < 1);
}

function reaches(stretches: readonly StretchView[]): { from: number; to: number }[] {
  return stretches.map(({ from, to }) => ({ from, to }));
}

const front = (desk: Desk) => reaches(onLine(desk.piece('floor'), 'y', 900));
const rear = (desk: Desk) => reaches(onLine(desk.piece('floor'), 'y', 0));
const left = (desk: Desk) => reaches(onLine(desk.piece('floor'), 'x', -550));
const right = (desk: Desk) => reaches(onLine(desk.piece('floor'), 'x', 550));

describe('an edge that is decided', () => {
  it('is read from the files as it was said, with what hides it', async () => {
    await atDesk(bareWren, (desk) => {
      expect(desk.read('floor')).toEqual([]);
      const piece = 'floor';
      desk.edit({
        kind: 'edge',
        piece,
        stretches: rear(desk),
        edge: 'raw',
        under: 'the seat base',
      });
      desk.edit({
        kind: 'edge',
        piece,
        stretches: [...left(desk), ...right(desk)],
        edge: 'tuck',
        under: 'the sill',
      });
      desk.edit({ kind: 'edge', piece, stretches: front(desk), edge: 'turned', name: 'toe' });
      const read = desk.read('floor');
      const at = (x: number, y: number) =>
        read.find(({ middle }) => middle[0] === x && middle[1] === y);
      expect(read).toHaveLength(4);
      expect(at(0, 0)).toMatchObject({ kind: 'raw', length: 1100, hiddenBy: 'the seat base' });
      expect(at(-550, 450)).toMatchObject({ kind: 'tuck', length: 900, hiddenBy: 'the sill' });
      expect(at(550, 450)).toMatchObject({ kind: 'tuck', length: 900, hiddenBy: 'the sill' });
      expect(at(0, 900)).toMatchObject({ kind: 'turned', length: 1100, name: 'toe' });
    });
  });

  it('is one edge with one name where stretches follow each other', async () => {
    await atDesk(bareWren, (desk) => {
      expect(front(desk).length).toBeGreaterThan(1);
      const stretches = [...right(desk), ...front(desk)];
      desk.edit({ kind: 'edge', piece: 'floor', stretches, edge: 'bound' });
      expect(desk.read('floor')).toMatchObject([{ kind: 'bound', length: 2000 }]);
    });
  });

  it('leaves what hides the others of its kind as it was', async () => {
    await atDesk(wren, (desk) => {
      expect(desk.read('floor').filter(({ kind }) => kind === 'raw')).toMatchObject([
        { hiddenBy: 'the seat base', length: 1100 },
      ]);
      const [own] = rear(desk);
      const half = { from: own!.from, to: own!.from + 400 };
      desk.edit({
        kind: 'edge',
        piece: 'floor',
        stretches: [half],
        edge: 'raw',
        name: 'door',
        under: 'the trim',
      });
      const raw = desk.read('floor').filter(({ kind }) => kind === 'raw');
      expect(raw.map(({ length, hiddenBy }) => [length, hiddenBy]).sort()).toEqual([
        [400, 'the trim'],
        [700, 'the seat base'],
      ]);
    });
  });

  it('has what hides a part of it said of that part alone', async () => {
    await atDesk(bareWren, (desk) => {
      const all = [...right(desk), ...front(desk)];
      desk.edit({ kind: 'edge', piece: 'floor', stretches: all, edge: 'raw' });
      const stretches = right(desk);
      desk.edit({ kind: 'edge', piece: 'floor', stretches, edge: 'raw', under: 'the sill trim' });
      const hidden = () =>
        desk
          .read('floor')
          .map(({ length, hiddenBy }) => [length, hiddenBy])
          .sort();
      expect(hidden()).toEqual([
        [1100, null],
        [900, 'the sill trim'],
      ]);
      desk.edit({
        kind: 'edge',
        piece: 'floor',
        stretches: front(desk),
        edge: 'raw',
        under: 'the dash',
      });
      expect(hidden()).toEqual([
        [1100, 'the dash'],
        [900, 'the sill trim'],
      ]);
    });
  });

  it('is hidden by nothing any more when it is bound', async () => {
    await atDesk(bareWren, (desk) => {
      const stretches = rear(desk);
      desk.edit({ kind: 'edge', piece: 'floor', stretches, edge: 'raw', under: 'the mat' });
      expect(desk.text(setFileName)).toContain('the mat');
      const before = desk.text(setFileName);
      desk.edit({ kind: 'edge', piece: 'floor', stretches, edge: 'bound' });
      expect(desk.text(setFileName)).not.toContain('the mat');
      desk.undo();
      expect(desk.text(setFileName)).toBe(before);
    });
  });

  it('gets another name wherever the set file names it', async () => {
    await atDesk(bareWren, (desk) => {
      const { stretches: all } = desk.piece('mat');
      desk.edit({
        kind: 'edge',
        piece: 'floor',
        stretches: rear(desk),
        edge: 'raw',
        name: 'back',
        under: 'the mat',
      });
      desk.edit({
        kind: 'seam',
        sides: [
          { piece: 'floor', stretches: front(desk) },
          { piece: 'mat', stretches: reaches(all.slice(0, 1)) },
        ],
        ease: null,
      });
      const [seam] = desk.kept().draft.said.seams!;
      const edge = seam!.join[0].split('/')[1]!;
      desk.edit({ kind: 'name-edge', piece: 'floor', edge, to: 'toe' });
      desk.edit({ kind: 'name-edge', piece: 'floor', edge: 'back', to: 'heel' });
      expect(desk.kept().draft.said.seams![0]!.join[0]).toBe('floor/toe');
      expect(desk.read('floor').map(({ name, hiddenBy }) => [name, hiddenBy])).toEqual(
        expect.arrayContaining([
          ['toe', null],
          ['heel', 'the mat'],
        ]),
      );
    });
  });

  it('is refused where it is too short, with nothing written', async () => {
    await atDesk(bareWren, (desk) => {
      const stretches = [{ from: 100, to: 102 }];
      expect(() => desk.edit({ kind: 'edge', piece: 'floor', stretches, edge: 'raw' })).toThrow(
        Refusal,
      );
      expect(existsSync(historyFile(historyIn(desk.folder)))).toBe(false);
    });
  });

  it('is left alone, and it is told, where a line is that only some vehicles have', async () => {
    const path = box(-550, 0, 550, 900);
    const optional = on('TUCK-WITH-LOCK', along(path, [-550, 900], [-550, 0]));
    const bare = String(bareWren[setFile]).replace(
      'pieces:',
      String(wrenOptions[setFile]).match(/options:[\s\S]*?pieces:/)![0],
    );
    const blocks = wrenBlocks().map((block) =>
      block.name === 'FLOOR'
        ? { ...block, entities: [block.entities[0]!, ...optional] }
        : { ...block, entities: block.entities.slice(0, 1) },
    );
    const files = { ...bareWren, [setFile]: bare, [drawingFile]: drawingText(blocks) };
    await atDesk(files, (desk) => {
      const stretches = [...left(desk), ...rear(desk)];
      const done = desk.edit({ kind: 'edge', piece: 'floor', stretches, edge: 'bound' });
      expect('told' in done && (done.told as { rule: string }[]).map(({ rule }) => rule)).toEqual([
        'stretch-optional',
      ]);
      expect(desk.read('floor')).toMatchObject([{ kind: 'bound', length: 1100 }]);
    });
  });
});

describe('two edges that are sewn together', () => {
  const floorFront = (desk: Desk) => ({ piece: 'floor', stretches: front(desk) });
  const dashRear = (desk: Desk) => ({
    piece: 'dash',
    stretches: reaches(onLine(desk.piece('dash'), 'y', 920)),
  });
  const seams = (desk: Desk) => {
    const { draft } = desk.kept();
    return seamViews(draft, contextOf(draft.said, join(desk.folder, '../../shared')));
  };

  it('are a seam of two named edges, with notches that meet at equal distances', async () => {
    await atDesk(bareWren, (desk) => {
      desk.edit({ kind: 'seam', sides: [floorFront(desk), dashRear(desk)], ease: 4 });
      const [seam] = desk.kept().draft.said.seams!;
      expect(seam!.ease).toBe(4);
      desk.edit({ kind: 'seam-notches', join: [...seam!.join], count: 3, replace: false });
      const [view] = seams(desk);
      expect(view!.fits).toHaveLength(1);
      const { lengths, met, unmet } = view!.fits[0]!;
      expect(lengths).toEqual([1100, 1100]);
      expect(unmet).toEqual([]);
      // The two that were drawn, and a quarter, half and three quarters of 1100 mm from the left.
      const places = met
        .map(({ at }) => at.map(([x]) => Math.round(x)))
        .sort((a, b) => a[0]! - b[0]!);
      expect(places).toEqual([
        [-275, -275],
        [0, 0],
        [200, 200],
        [275, 275],
      ]);
      const ofSeam = desk.questions().filter(({ rule }) => rule.startsWith('seam'));
      expect(ofSeam).toEqual([]);
      const names = seam!.join.map((ref) => ref.split('/')[1]);
      expect(desk.read('floor')).toMatchObject([{ kind: 'seam', name: names[0] }]);
      expect(desk.read('dash')).toMatchObject([{ kind: 'seam', name: names[1] }]);
    });
  });

  it('stay the seam that they are, as it is written, and can be none any more', async () => {
    await atDesk(wren, (desk) => {
      const drawing = desk.text('wren.dxf');
      desk.edit({ kind: 'seam', sides: [dashRear(desk), floorFront(desk)], ease: 5 });
      expect(desk.kept().draft.said.seams).toEqual([{ join: ['floor', 'dash'], ease: 5 }]);
      desk.undo();
      expect(desk.text('wren.dxf')).toBe(drawing);
      desk.edit({ kind: 'unseam', join: ['dash', 'floor'] });
      expect(desk.text(setFileName)).not.toContain('join');
    });
  });

  it('are told apart where a notch meets none', async () => {
    await atDesk(wren, (desk) => {
      const at = desk.kept().draft.blocks.find(({ name }) => name === 'DASH')!;
      const things = at.entities.flatMap(({ layer }, i) => (layer === 'NOTCH' ? [i] : []));
      desk.edit({ kind: 'remove', block: 'DASH', things });
      const [view] = seams(desk);
      expect(view!.fits[0]!.unmet).toEqual([
        {
          edge: 0,
          at: [
            [200, 900],
            [200, 920],
          ],
        },
      ]);
      expect(view!.findings.map(({ rule }) => rule)).toEqual(['seam-notch']);
    });
  });
});

describe('what is asked about edges', () => {
  it('is one question for each piece, which stays the same until all of it is answered', async () => {
    await atDesk(bareWren, (desk) => {
      const ofEdges = () => desk.questions().filter(({ rule }) => rule === 'edge-not-claimed');
      expect(ofEdges().map(({ piece }) => piece)).toEqual([
        'floor',
        'dash',
        'mat',
        'rest',
        'cover',
      ]);
      const all = desk.piece('floor').stretches.length;
      const [before] = ofEdges();
      expect(before!.stretches).toHaveLength(all);
      desk.edit({ kind: 'edge', piece: 'floor', stretches: rear(desk), edge: 'bound' });
      const [after] = ofEdges();
      expect(after!.id).toBe(before!.id);
      expect(after!.stretches).toHaveLength(all - rear(desk).length);
      const rest = desk.piece('floor').stretches.filter((_, i) => after!.stretches.includes(i));
      expect(rest.every(({ kind }) => kind === null)).toBe(true);
      desk.edit({ kind: 'edge', piece: 'floor', stretches: reaches(rest), edge: 'bound' });
      expect(ofEdges().map(({ piece }) => piece)).toEqual(['dash', 'mat', 'rest', 'cover']);
    });
  });

  it('chooses the raw edge that nothing covers', async () => {
    await atDesk(replaced(wren, setFile, ', covered: the seat base', ''), (desk) => {
      const asked = desk.questions().find(({ rule }) => rule === 'raw-on-show');
      expect(asked!.piece).toBe('floor');
      const chosen = asked!.stretches.map((i) => desk.piece('floor').stretches[i]!);
      expect(chosen.map(({ middle, length }) => [...middle, length])).toEqual([[0, 0, 1100]]);
    });
  });
});

describe('what the page is told of edges', () => {
  it('goes once round the outline, and only where something changed is it new', async () => {
    await atDesk(wren, (desk) => {
      // From now on the drawing is the desk's own.
      desk.edit({ kind: 'mean', block: 'FLOOR', things: [1], means: 'MARK' });
      const before = desk.views();
      for (const { stretches, round } of before) {
        const sum = stretches.reduce((all, { length }) => all + length, 0);
        expect(sum).toBeCloseTo(round, 0);
      }
      desk.edit({ kind: 'pieces', pieces: ['cover'], values: { edge: 'bound' }, answered: [] });
      const after = desk.views();
      expect(after.filter((view) => !before.includes(view)).map(({ name }) => name)).toEqual([
        'cover',
      ]);
      expect(
        after.at(-1)!.stretches.every(({ kind, saidBy }) => kind === 'bound' && saidBy === 'rest'),
      ).toBe(true);
    });
  });

  it('has the line to cut, with the allowances of the material', async () => {
    await atDesk(wren, (desk) => {
      const { cut } = desk.piece('floor');
      const numbers = [...cut!.matchAll(/[ML](-?[\d.]+) (-?[\d.]+)/g)].map(([, x, y]) => [
        Number(x),
        Number(y),
      ]);
      // Of 1100 by 900: 30 mm at each side that is tucked, 10 mm at the seam in front, nothing at the raw rear.
      expect(Math.max(...numbers.map(([x]) => x!))).toBe(580);
      expect(Math.max(...numbers.map(([, y]) => y!))).toBe(910);
      expect(Math.min(...numbers.map(([, y]) => y!))).toBe(0);
    });
    await atDesk(
      replaced(
        wren,
        setFile,
        'floor: { side: centre, material: loop',
        'floor: { side: centre, material: moss',
      ),
      (desk) => {
        expect(desk.piece('floor').cut).toBeNull();
      },
    );
  });
});
