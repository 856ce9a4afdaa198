import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { Refusal } from '../../src/base/findings.ts';
import { contextOf } from '../../src/drafting/edit-context.ts';
import type { DraftEdit } from '../../src/drafting/draft-edit.ts';
import type { Question } from '../../src/drafting/questions.ts';
import { questionsOf } from '../../src/drafting/questions.ts';
import type { Block } from '../../src/drawing/drawing.ts';
import { boxOfEntities } from '../../src/drawing/extents.ts';
import { centreOf } from '../../src/geometry/paths/box.ts';
import { inFolder, wren } from '../support/wren.ts';
import type { TestDraft } from './drafting.ts';
import { openTestDraft } from './drafting.ts';

/** The place in its block of the first thing on a layer, nearest to a spot where several are. */
function thing(
  blocks: readonly Block[],
  block: string,
  layer: string,
  at = { x: 0, y: 0 },
): number {
  const { entities } = blocks.find(({ name }) => name === block)!;
  const far = (i: number): number => {
    const { x, y } = centreOf(boxOfEntities([entities[i]!]));
    return Math.hypot(x - at.x, y - at.y);
  };
  const own = entities.flatMap((entity, i) => (entity.layer === layer ? [i] : []));
  if (own.length === 0) throw new Error(`nothing on ${layer} of ${block}`);
  return own.reduce((best, i) => (far(i) < far(best) ? i : best));
}

const say = (piece: string, values: object): DraftEdit => ({
  kind: 'pieces',
  pieces: [piece],
  values: { ...values },
  answered: [],
});

interface Mistake {
  readonly name: string;
  /** What a person does by mistake. */
  readonly edits: (blocks: readonly Block[]) => readonly DraftEdit[];
  /** Rules of which one is asked or warned of; `refused`: it cannot be done at all. */
  readonly asked: readonly string[];
}

const onFloor = (
  blocks: readonly Block[],
  layer: string,
  means: string,
  at?: { readonly x: number; readonly y: number },
): DraftEdit[] => [
  { kind: 'mean', block: 'FLOOR', things: [thing(blocks, 'FLOOR', layer, at)], means },
];

const mistakes: readonly Mistake[] = [
  {
    name: 'a wrong unit',
    edits: () => [{ kind: 'set', values: { units: 'in' }, answered: [] }],
    asked: ['implausible-size', 'drawn-elsewhere', 'units-square'],
  },
  {
    name: 'a heel pad taken for a hole',
    edits: (blocks) => [
      {
        kind: 'mean',
        block: 'MAT',
        things: [thing(blocks, 'MAT', 'PAD-DRIVER')],
        means: 'HOLE-DRIVER',
      },
    ],
    asked: ['no-pad'],
  },
  {
    name: 'a fold taken for a notch',
    edits: (blocks) => onFloor(blocks, 'FOLD', 'NOTCH'),
    asked: ['notch-across', 'notch-long'],
  },
  {
    name: 'a hole taken for a pad',
    edits: (blocks) => [
      { kind: 'mean', block: 'MAT', things: [thing(blocks, 'MAT', 'HOLE-RIGHT')], means: 'PAD' },
    ],
    asked: ['same-label'],
  },
  {
    name: 'a hole taken for a notch',
    edits: (blocks) => onFloor(blocks, 'HOLE', 'NOTCH', { x: 100, y: 100 }),
    asked: ['notch-shape', 'notch-off-outline'],
  },
  {
    name: 'a fold taken for an outline',
    edits: (blocks) => onFloor(blocks, 'FOLD', 'OUTLINE'),
    asked: ['one-outline', 'open-contour'],
  },
  {
    name: 'a fold taken for the centreline',
    edits: (blocks) => onFloor(blocks, 'FOLD', 'AXIS'),
    asked: ['one-axis'],
  },
  {
    name: 'left for right of a piece that has its place',
    edits: () => [say('cover', { side: 'right', at: [-1, 0] })],
    asked: ['drawn-elsewhere'],
  },
  {
    name: 'the half of a pair that is not drawn',
    edits: () => [say('mat', { drawnSide: 'left' })],
    asked: ['drawn-elsewhere', 'suffix-elsewhere'],
  },
  {
    name: 'the driver’s things for the passenger',
    edits: (blocks) => onFloor(blocks, 'CUTOUT-DRIVER', 'CUTOUT-PASSENGER'),
    asked: ['suffix-elsewhere'],
  },
  {
    name: 'the wrong hand',
    edits: () => [{ kind: 'set', values: { drawn: 'LHD' }, answered: [] }],
    asked: ['suffix-elsewhere', 'drawn-elsewhere', 'drawn-hand', 'pad-elsewhere'],
  },
  {
    name: 'a pedal’s cutout that follows nobody',
    edits: (blocks) => [
      ...onFloor(blocks, 'CUTOUT-DRIVER', 'CUTOUT'),
      say('floor', { decided: null }),
    ],
    asked: ['one-sided'],
  },
  {
    name: 'a centreline 5 mm beside the middle',
    edits: () => [
      {
        kind: 'axis',
        piece: 'floor',
        line: [
          [5, 0],
          [5, 100],
        ],
      },
    ],
    asked: ['axis-off-middle'],
  },
  {
    name: 'the pile turned about',
    edits: () => [{ kind: 'set', values: { pile: 'forward' }, answered: [] }],
    asked: ['pile-direction'],
  },
  {
    name: 'a piece turned by a quarter',
    edits: () => [
      { kind: 'turn', piece: 'cover', quarters: 1 },
      { kind: 'set', values: { pile: 'rearward' }, answered: [] },
    ],
    asked: ['pile-direction'],
  },
  {
    name: 'an edge left raw on show',
    edits: () => [say('floor', { covered: null })],
    asked: ['raw-on-show'],
  },
  {
    name: 'a piece thrown out that another is sewn to',
    edits: () => [{ kind: 'drop-piece', piece: 'dash' }],
    asked: ['seam-alone', 'seam-edge', 'seam-piece'],
  },
  {
    name: 'a seam moved apart',
    edits: (blocks) => [
      {
        kind: 'move',
        block: 'DASH',
        things: [thing(blocks, 'DASH', 'NOTCH')],
        by: [60, 0],
      },
    ],
    asked: ['seam-notch'],
  },
  {
    name: 'a material that the shop has not',
    edits: () => [say('rest', { material: 'lop' })],
    asked: ['file', 'unknown-name', 'no-material'],
  },
  {
    name: 'a thing put on the wrong piece',
    edits: (blocks) => [
      { kind: 'give', block: 'MAT', things: [thing(blocks, 'MAT', 'HOLE-RIGHT')], piece: 'cover' },
    ],
    asked: ['feature-outside'],
  },
  {
    name: 'two pieces of one name',
    edits: () => [{ kind: 'rename', piece: 'cover', to: 'rest' }],
    asked: ['refused'],
  },
  {
    name: 'a whole piece said to be half',
    edits: () => [say('floor', { half: true })],
    asked: ['half-crosses', 'half-drawn', 'half-outline'],
  },
  {
    name: 'the outline of a piece taken for something to read',
    edits: (blocks) => [
      { kind: 'mean', block: 'REST', things: [thing(blocks, 'REST', 'OUTLINE')], means: 'NOTE' },
    ],
    asked: ['one-outline'],
  },
  {
    name: 'two pieces that are no mirror images made a pair',
    edits: () => [{ kind: 'pair', piece: 'cover', other: 'rest' }],
    asked: ['not-mirrored'],
  },
];

function askedAfter(draft: TestDraft, root: string, edits: Mistake['edits']): string[] {
  const { draft: before } = draft.edit({ kind: 'set', values: { title: 'Wren' }, answered: [] });
  try {
    for (const edit of edits(before.blocks)) draft.edit(edit);
  } catch (error) {
    if (error instanceof Refusal) return ['refused'];
    throw error;
  }
  const { draft: now } = draft.kept();
  const isGrave = ({ severity }: Question): boolean => severity !== 'note';
  return questionsOf(now, contextOf(now.said, join(root, 'shared')))
    .filter(isGrave)
    .map(({ rule }) => rule);
}

describe('what a person gets wrong at the desk', () => {
  it('is not told of a set that is right', async () => {
    await inFolder(wren, (root) => {
      expect(askedAfter(openTestDraft(root), root, () => [])).toEqual([]);
    });
  });

  it.each(mistakes)('is asked about: $name', async ({ edits, asked }) => {
    await inFolder(wren, (root) => {
      const told = askedAfter(openTestDraft(root), root, edits);
      expect(
        told.filter((rule) => asked.includes(rule)),
        told.join(),
      ).not.toEqual([]);
    });
  });
});
