import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { box, line, note, on, points } from '../../patterns/fenlark/pen.ts';
import type { Entity } from '../../src/drawing/drawing.ts';
import { textEntity } from '../../src/drawing/entity-of.ts';
import { boxOfPath } from '../../src/geometry/paths/path.ts';
import { importSet } from '../../src/jobs/import.ts';
import { tracedKinds } from '../../src/pattern/edges.ts';
import { meaningOf } from '../../src/pattern/layers.ts';
import { siskinBlocks, siskinSet } from '../support/siskin.ts';
import type { TrialSet } from '../support/trial-sets.ts';
import { blocksIn, fenlarkSet, openTrials, setData, wrenSet } from '../support/trial-sets.ts';
import { drawingText } from '../support/wren.ts';

type Change = (set: TrialSet, piece: string) => TrialSet;

const { root, shared, findingsOf, close } = openTrials();
afterAll(close);

/** The Siskin as `import` draws it anew, and the set file that a person made of its answers. */
function imported(): TrialSet {
  const [file, folder] = [join(root, 'sent.dxf'), join(root, 'siskin')];
  rmSync(folder, { recursive: true, force: true });
  writeFileSync(file, drawingText(siskinBlocks()));
  importSet({ file, folder, sharedFolder: shared, units: 'mm', drawn: 'LHD', gap: 0.05 });
  const made = setData(readFileSync(join(folder, 'set.yaml'), 'utf8'));
  const answers = setData(siskinSet);
  // The pieces come in the order of the blocks, and so they do in the set file.
  const named = Object.keys(made.pieces).map((name) => made.pieces[name]!['block'] ?? name);
  const pieces = Object.entries(answers.pieces).map(([name, entry], i) => [
    name,
    { ...entry, block: String(named[i]).toUpperCase() },
  ]);
  return {
    blocks: blocksIn(join(folder, 'siskin.dxf')),
    content: { ...answers, pieces: Object.fromEntries(pieces) },
  };
}

const sound = { fenlark: fenlarkSet, wren: wrenSet, imported } satisfies Record<
  string,
  () => TrialSet
>;

/** In each set the piece with which something is done: a mat with a heel pad. */
const mats = { fenlark: 'footwell-mat', wren: 'mat', imported: 'mat' } as const;

function drawn(change: (entities: readonly Entity[]) => readonly Entity[]): Change {
  return ({ blocks, content }, piece) => {
    const wanted = String(content.pieces[piece]!['block'] ?? piece).toUpperCase();
    if (!blocks.some(({ name }) => name === wanted)) throw new Error(`there is no ${wanted}`);
    return {
      content,
      blocks: blocks.map((block) =>
        block.name === wanted ? { ...block, entities: change(block.entities) } : block,
      ),
    };
  };
}

/** Something more, drawn from the middle of the piece. */
function more(draw: (x: number, y: number) => readonly Entity[]): Change {
  return drawn((entities) => {
    const outline = entities.find(({ layer }) => layer === 'OUTLINE');
    if (outline?.kind !== 'path') throw new Error('there is no outline');
    const { minX, minY, maxX, maxY } = boxOfPath(outline.path);
    return [...entities, ...draw((minX + maxX) / 2, (minY + maxY) / 2)];
  });
}

function without(isGone: (layer: string) => boolean): Change {
  return drawn((entities) => {
    const kept = entities.filter(({ layer }) => !isGone(layer));
    if (kept.length === entities.length) throw new Error('there is nothing to take away');
    return kept;
  });
}

function said(keys: Record<string, unknown>): Change {
  return ({ blocks, content }, piece) => ({
    blocks,
    content: {
      ...content,
      pieces: { ...content.pieces, [piece]: { ...content.pieces[piece], ...keys } },
    },
  });
}

function saidOfSet(keys: Record<string, unknown>): Change {
  return ({ blocks, content }) => ({ blocks, content: { ...content, ...keys } });
}

function isTraced(layer: string): boolean {
  const role = meaningOf(layer, new Map())?.role;
  return role !== undefined && tracedKinds[role] !== undefined;
}

/** Ways to leave a set unanswered, and the rule that must tell, as an error. */
const ways: readonly (readonly [way: string, rule: string, change: Change])[] = [
  ['a guess about a piece stands open', 'open-question', said({ open: { side: 'a guess' } })],
  ['a guess about the set stands open', 'open-question', saidOfSet({ open: { drawn: 'a guess' } })],
  ['texts of a piece stand open', 'open-question', said({ open: { texts: '"CUT 2"' } })],
  ['what was left out stands open', 'open-question', saidOfSet({ open: { 'left-out': 'a line' } })],
  ['a question is about no key', 'open-names-nothing', said({ open: { sides: 'a guess' } })],
  [
    'a question of the set is about no key',
    'open-names-nothing',
    saidOfSet({ open: { seat: 'x' } }),
  ],
  [
    'a closed line lies on a layer that says nothing',
    'unknown-layer',
    more((x, y) => on('RED', box(x, y, x + 20, y + 20))),
  ],
  [
    'an open line lies on a layer that says nothing',
    'unknown-layer',
    more((x, y) => on('BLUE', line([x, y], [x + 20, y]))),
  ],
  [
    'a point lies on a layer that says nothing',
    'unknown-layer',
    more((x, y) => points('X', [x, y])),
  ],
  [
    'the layers of the set file name another layer',
    'unknown-layer',
    (set, piece) =>
      saidOfSet({ layers: { REED: 'PAD' } })(
        more((x, y) => on('RED', box(x, y, x + 20, y + 20)))(set, piece),
        piece,
      ),
  ],
  [
    'the line of the pile is missing',
    'no-pile',
    (set, piece) =>
      said({ at: undefined })(without((layer) => layer === 'PILE')(set, piece), piece),
  ],
  [
    'nothing says what happens to the edge',
    'edge-not-claimed',
    (set, piece) => {
      const bare = said({ edge: undefined })(set, piece);
      const isDrawn = bare.blocks.some(({ name, entities }) => {
        const own = String(bare.content.pieces[piece]!['block'] ?? piece).toUpperCase();
        return name === own && entities.some(({ layer }) => isTraced(layer));
      });
      return isDrawn ? without(isTraced)(bare, piece) : bare;
    },
  ],
  ['the material of the heel pad is missing', 'pad-material', said({ pad: undefined })],
  ['the material is of no file', 'unknown-name', said({ material: 'velvet' })],
];

const names = Object.keys(sound) as (keyof typeof sound)[];

describe('a sound set', () => {
  it.each(names)('%s: nothing is found', (name) => {
    expect(findingsOf(sound[name]())).toEqual([]);
  });

  it.each(names)('%s: with layers that the set file explains, nothing is found', (name) => {
    const marked = more((x, y) => on('CHALK', line([x, y], [x + 5, y])))(sound[name](), mats[name]);
    const noted = more((x, y) => [note('see the letter', x, y)].flat())(marked, mats[name]);
    expect(findingsOf(saidOfSet({ layers: { chalk: 'NOTE' } })(noted, mats[name]))).toEqual([]);
  });
});

describe.each(ways)('%s', (_, rule, change) => {
  it.each(names)('is told as an error: %s', (name) => {
    const told = findingsOf(change(sound[name](), mats[name])).filter((one) => one.rule === rule);
    expect(told.length).toBe(1);
    expect(told[0]!.severity).toBe('error');
  });
});

describe('all of that together', () => {
  it.each(names)('is told at once: %s', (name) => {
    // One question stands for all, and a material that is there lets the pile be asked for.
    const some = ways.filter(
      ([, rule], i) => rule !== 'unknown-name' && ways.findIndex((way) => way[1] === rule) === i,
    );
    const set = some
      .filter(([, rule]) => rule !== 'open-question')
      .reduce((one, [, , change]) => change(one, mats[name]), sound[name]());
    const found = findingsOf(saidOfSet({ open: { title: 'a guess' } })(set, mats[name]));
    const rules = new Set(found.map((one) => one.rule));
    expect(some.filter(([, rule]) => !rules.has(rule))).toEqual([]);
  });
});

describe('a text between two edges', () => {
  it('is told, and names neither', () => {
    const two = drawn((entities) => [
      ...entities,
      ...on('SEAM', line([500, 100], [500, 300])),
      textEntity('SEAM', 'front', { x: 505, y: 95 }, 5),
      ...on('SEAM', line([300, 100], [500, 100])),
    ]);
    const found = findingsOf(two(sound.wren(), 'rest'));
    expect(found.filter(({ rule }) => rule === 'edge-name').length).toBe(1);
  });
});
