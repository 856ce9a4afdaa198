import { describe, expect, it } from 'vitest';
import { meaningOf } from '../../../../src/pattern/layers.ts';
import { canFollow } from '../../../../src/pattern/words.ts';
import { partsOf } from '../../../../src/web/page/meaning-parts.ts';
import { followWords, roles, roleWords, saidWords } from '../../../../src/web/page/meanings.ts';
import {
  nothingSaid,
  withAnswer,
  withForCustomer,
  wishOf,
} from '../../../../src/web/page/sets/sight/said.ts';
import { sizeWords } from '../../../../src/web/page/sets/sight/sizes.ts';

describe('what can be on a layer', () => {
  it('is each role that a layer can have, with or without what it follows', () => {
    for (const role of roles) {
      expect(meaningOf(role, new Map())?.role).toBe(role);
      if (!canFollow(role)) continue;
      for (const value of Object.keys(followWords).filter((one) => one !== '')) {
        const meaning = meaningOf(`${role}-${value}`, new Map());
        expect(meaning).toMatchObject({ role, follows: value });
      }
    }
    expect(roles).toHaveLength(16);
    // One word has one meaning.
    expect(new Set(Object.values(roleWords)).size).toBe(16);
  });

  it('is told in words, with what it goes with and its options', () => {
    expect(saidWords('CUTOUT-DRIVER-WITH-LOCK')).toBe('cutout, goes with the driver, with lock');
    expect(partsOf('HOLE-WITHOUT-LOCK')).toEqual({
      role: 'HOLE',
      follow: '',
      rest: 'WITHOUT-LOCK',
    });
  });

  it('has its size in mm and in inches', () => {
    // 1778 mm are 70 inches.
    expect(sizeWords([1778, 25.4])).toBe('1,778 by 25 mm (70.0 by 1.0 in)');
  });
});

describe('what is said of a drawing', () => {
  it('is sent as it was said last, and what is taken back is not', () => {
    const once = withAnswer(withAnswer(nothingSaid, 'A', 'PAD'), 'B', 'NOTE');
    const again = withAnswer(withAnswer(once, 'A', 'MARK'), 'B', null);
    expect(wishOf('x.dxf', again)).toEqual({ name: 'x.dxf', layers: [['A', 'MARK']] });
  });

  it('holds for a customer only as long as it is an answer', () => {
    const ticked = withForCustomer(withAnswer(nothingSaid, 'A', 'PAD'), 'A', true);
    expect([...withAnswer(ticked, 'A', 'MARK').forCustomer]).toEqual(['A']);
    const each = withAnswer(ticked, 'A', 'each');
    expect([[...each.forCustomer], [...each.each], each.layers.size]).toEqual([[], ['A'], 0]);
  });
});
