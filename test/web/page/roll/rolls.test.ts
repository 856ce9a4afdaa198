import { describe, expect, it } from 'vitest';
import type { RunContent } from '../../../../src/run/run-file.ts';
import { rollSchema, runSchema } from '../../../../src/run/run-file.ts';
import {
  clothsOf,
  plainRoll,
  rollEntriesOf,
  withRolls,
} from '../../../../src/web/page/roll/rolls.ts';

function contentOf(rolls: object): RunContent {
  const orders = [{ order: 'A', set: 'wren', hand: 'RHD' }];
  return runSchema.parse({ title: 'Week', cutter: 'long-bay', orders, rolls });
}

const roll = (more: object) => rollSchema.parse(more);

const claret = { material: 'loop', colour: 'claret' };
const navy = { material: 'loop', colour: 'navy' };
const board = { material: 'board', colour: null };

const content = contentOf({
  loop: [
    { colour: 'claret', name: 'a' },
    { colour: 'navy', name: 'b' },
    { colour: 'claret', name: 'c' },
  ],
  board: { length: 900 },
});

describe('the rolls of a cloth', () => {
  it('are those in its colour', () => {
    expect(rollEntriesOf(content, claret).map(({ name }) => name)).toEqual(['a', 'c']);
    expect(rollEntriesOf(content, board)).toEqual([roll({ length: 900 })]);
  });

  it('are one new roll in its colour where none is written', () => {
    expect(rollEntriesOf(content, { ...claret, colour: 'sand' })).toEqual([plainRoll('sand')]);
    expect(rollEntriesOf(contentOf({}), board)).toEqual([plainRoll(null)]);
    expect(plainRoll('sand')).toEqual(roll({ colour: 'sand' }));
  });

  it('are changed where they stand, and those of other colours stay as they are', () => {
    const changed = withRolls(content, claret, [roll({ colour: 'claret', name: 'd' })]);
    expect(changed.rolls['loop']).toEqual([
      roll({ colour: 'claret', name: 'd' }),
      roll({ colour: 'navy', name: 'b' }),
    ]);
    const none = withRolls(changed, claret, []);
    expect(none.rolls['loop']).toEqual(roll({ colour: 'navy', name: 'b' }));
    expect(Object.keys(withRolls(none, navy, []).rolls)).toEqual(['board']);
    expect(Object.keys(changed.rolls)).toEqual(['loop', 'board']);
  });

  it('in a new colour join the others of the material', () => {
    const sand = withRolls(content, { ...claret, colour: 'sand' }, [plainRoll('sand')]);
    expect([sand.rolls['loop']!].flat().map(({ colour }) => colour)).toEqual([
      'claret',
      'navy',
      'claret',
      'sand',
    ]);
  });
});

it('cloths are those that are cut, and those besides that the file has rolls of, each once', () => {
  expect(clothsOf(content, [board, claret, { ...claret, colour: 'sand' }, claret])).toEqual([
    board,
    claret,
    { ...claret, colour: 'sand' },
    navy,
  ]);
});
