import { expect, it } from 'vitest';
import { picked } from '../../../../src/web/page/cutting/picked.ts';

const set = (...labels: string[]): ReadonlySet<string> => new Set(labels);

it('each press adds a part or takes it out, and one beside the parts loses none', () => {
  expect(picked(set(), set('a'), false)).toEqual(set('a'));
  expect(picked(set('a'), set('b'), false)).toEqual(set('a', 'b'));
  expect(picked(set('a', 'b'), set('a'), false)).toEqual(set('b'));
  expect(picked(set('a', 'b'), set(), false)).toEqual(set('a', 'b'));
});

it('with a key the picture has done it already', () => {
  expect(picked(set('a', 'b'), set('a'), true)).toEqual(set('a'));
});
