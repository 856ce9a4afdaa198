import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { on } from '../../../patterns/fenlark/pen.ts';
import type { Entity } from '../../../src/drawing/drawing.ts';
import { textEntity } from '../../../src/drawing/entity-of.ts';
import { reflection, transformPath } from '../../../src/geometry/paths/transform.ts';
import { checkSet } from '../../../src/jobs/check.ts';
import type { Files } from '../../support/wren.ts';
import {
  drawingFile,
  drawingText,
  inFolder,
  redrawn,
  replaced,
  setFile,
  wren,
  wrenBlocks,
} from '../../support/wren.ts';

function rules(files: Files, rule: string): Promise<(string | undefined)[]> {
  return inFolder(files, (root) =>
    checkSet(join(root, 'patterns/wren'), join(root, 'shared'))
      .findings.filter((one) => one.rule === rule)
      .map(({ where }) => where.piece),
  );
}

/** The Wren with another piece that is read from a block. */
function withPiece(entry: string, files: Files = wren): Files {
  return replaced(files, setFile, 'seams:', `  extra: ${entry}\nseams:`);
}

const mat = wrenBlocks().find(({ name }) => name === 'MAT')!;
const mirror = reflection({ x: 0, y: 0 }, 90);
const matMirrored: Entity[] = mat.entities.map((entity) =>
  entity.kind === 'path' ? { ...entity, path: transformPath(mirror, entity.path) } : entity,
);

describe('a piece besides a pair of its shape', () => {
  const besides = 'material: loop, edge: bound, pad: rubber';
  it.each([
    ['a copy of it', `{ side: left, block: MAT, ${besides} }`, ['extra']],
    ['its mirror image', `{ side: left, block: OTHER, ${besides} }`, ['extra']],
    ['one that is decided', `{ side: left, block: MAT, decided: a spare, ${besides} }`, []],
    ['one of another material', `{ side: left, block: MAT, material: board, edge: raw }`, []],
    ['one in the middle', `{ side: centre, block: MAT, ${besides} }`, []],
  ])('%s', async (_, entry, told) => {
    const drawing = drawingText([...wrenBlocks(), { name: 'OTHER', entities: matMirrored }]);
    const files = { ...withPiece(entry), [drawingFile]: drawing };
    expect(await rules(files, 'besides-pair')).toEqual(told);
  });

  it('is not told of the Wren itself', async () => {
    expect(await rules(wren, 'besides-pair')).toEqual([]);
  });
});

describe('a text that names a piece and says the other side', () => {
  const named = (block: string, words: string): Files =>
    redrawn(block, (entities) => [...entities, textEntity('NOTE', words, { x: 300, y: 300 }, 12)]);
  it.each([
    ['MAT', 'MAT LH', ['mat']],
    ['MAT', 'MAT RH', []],
    ['MAT', 'FLOOR LH', []],
    ['REST', 'REST LEFT', ['rest']],
  ])('%s: %s', async (block, words, told) => {
    expect(await rules(named(block, words), 'side-mark')).toEqual(told);
  });
});

it('what happens to the edges of a pair may be said on one half alone', async () => {
  const edged = mat.entities.flatMap((entity) =>
    entity.kind === 'path' && entity.layer === 'OUTLINE'
      ? [entity, ...on('BOUND', entity.path)]
      : [entity],
  );
  const blocks = wrenBlocks().map((block) =>
    block.name === 'MAT' ? { name: 'MAT', entities: edged } : block,
  );
  const plain = matMirrored.filter(({ layer }) => !layer.includes('-'));
  const files = (other: readonly Entity[]): Files => ({
    ...replaced(wren, setFile, 'drawnSide: right,', 'drawnSide: right, other: OTHER,'),
    [drawingFile]: drawingText([...blocks, { name: 'OTHER', entities: other }]),
  });
  expect(await rules(files(plain), 'not-mirrored')).toEqual([]);
  // Where the other half says something of its edges, it is held against the first.
  const contour = matMirrored.find(({ layer }) => layer === 'OUTLINE')!;
  const tucked = [...plain, { ...contour, layer: 'TUCK' }];
  expect(await rules(files(tucked), 'not-mirrored')).not.toEqual([]);
});
