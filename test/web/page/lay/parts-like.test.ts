import { expect, it } from 'vitest';
import { partsLike } from '../../../../src/web/page/lay/parts-like.ts';
import { picturedPart } from '../roll-picture/parts.ts';

const parts = [
  picturedPart('toe-board.1.1041', { name: 'toe-board' }),
  picturedPart('floor-toe.1.1041', { name: 'floor-toe' }),
  picturedPart('toe-board.2.1042', { name: 'toe-board', order: '1042', set: 2 }),
];

it('finds parts by all the words that are typed, in any order, those that begin so first', () => {
  const found = (typed: string): string[] => partsLike(parts, typed).map(({ label }) => label);
  expect(found('toe')).toEqual(['toe-board.1.1041', 'toe-board.2.1042', 'floor-toe.1.1041']);
  expect(found('1042 TOE')).toEqual(['toe-board.2.1042']);
  expect(found('toe-board, order 1041, set 1')).toEqual(['toe-board.1.1041']);
  expect(found('sill')).toEqual([]);
});
