import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Condition, OptionValue } from '../../src/pattern/conditions.ts';
import { areContrary, bothConditions, isMet } from '../../src/pattern/conditions.ts';
import { followsWords, layerFileSchema, layerName, meaningOf } from '../../src/pattern/layers.ts';

const plain = new Map<string, string>();

describe('the suffixes of a layer', () => {
  it.each([
    ['HOLE', 'HOLE', null, []],
    ['HOLE-WITH-OVERDRIVE', 'HOLE', null, ['with overdrive']],
    ['Cutout-Driver-Without-Overdrive', 'CUTOUT', 'DRIVER', ['without overdrive']],
    ['HOLE-WITH-CONSOLE-LONG', 'HOLE', null, ['with console long']],
    ['SEAM-WITHOUT-CONSOLE-NONE', 'SEAM', null, ['without console none']],
    ['OUTLINE-WITH-LATE-WITHOUT-CONSOLE-2', 'OUTLINE', null, ['with late', 'without console 2']],
    // An option may be called as a side is: it stands behind WITH.
    ['HOLE-WITH-DRIVER', 'HOLE', null, ['with driver']],
  ])('%s is read', (layer, role, follows, said) => {
    const meaning = meaningOf(layer, plain)!;
    expect(meaning).toMatchObject({ role, follows });
    const words = meaning.when.map(({ isWith, option, value }) =>
      [isWith ? 'with' : 'without', option, value].filter((word) => word !== null).join(' '),
    );
    expect(words.sort()).toEqual([...said].sort());
  });

  it.each([
    'HOLE-OVERDRIVE',
    'HOLE-WITH',
    'HOLE-WITH-',
    'HOLE-WITH-A-B-C',
    'HOLE-WITH-WITHOUT-A',
    'HOLE-DRIVER-LEFT-WITH-A',
    'HOLE-WITH-A-DRIVER-LEFT',
    'WITH-OVERDRIVE',
    'HOLE--WITH-A',
    'HOLE-WITH-A_B',
  ])('%s says nothing', (layer) => {
    expect(meaningOf(layer, plain)).toBeNull();
  });

  const name = fc.stringMatching(/^[a-z0-9]{1,8}$/).filter((one) => !/^with(out)?$/.test(one));
  const condition: fc.Arbitrary<Condition> = fc.record({
    option: name,
    value: fc.option(name),
    isWith: fc.boolean(),
  });

  it('are written as they are read, in whichever order they were put', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(null, ...followsWords),
        fc.uniqueArray(condition, { maxLength: 4, selector: (one) => JSON.stringify(one) }),
        (follows, conditions) => {
          const [once, back] = [conditions, conditions.toReversed()].map((when) =>
            layerName({ role: 'SEAM', follows, when: bothConditions(when, []) }),
          );
          expect(back).toBe(once);
          expect(layerName(meaningOf(once!, plain)!)).toBe(once);
          expect(meaningOf(once!, plain)!.when).toHaveLength(conditions.length);
        },
      ),
    );
  });

  it('stand for own layers too, and no own layer can have another meaning than such a name', () => {
    expect(layerFileSchema.safeParse({ OD: 'hole-with-overdrive' }).success).toBe(true);
    expect(layerFileSchema.safeParse({ OD: 'HOLE-OVERDRIVE' }).success).toBe(false);
    expect(layerFileSchema.safeParse({ 'HOLE-WITH-OVERDRIVE': 'NOTE' }).success).toBe(false);
    const own = meaningOf('od', new Map([['OD', 'HOLE-WITH-OVERDRIVE']]))!;
    expect(layerName(own)).toBe('HOLE-WITH-OVERDRIVE');
  });

  it('are contrary where no choice meets them all', () => {
    const values = new Map<string, readonly OptionValue[]>([
      ['od', [true, false]],
      ['cs', ['none', 'short', 'long']],
    ]);
    const some = fc.oneof(
      fc.record({ option: fc.constant('od'), value: fc.constant(null), isWith: fc.boolean() }),
      fc.record({
        option: fc.constant('cs'),
        value: fc.constantFrom('none', 'short', 'long'),
        isWith: fc.boolean(),
      }),
    );
    const seen = { yes: 0, no: 0 };
    fc.assert(
      fc.property(fc.array(some, { maxLength: 5 }), (when) => {
        const all = values.get('od')!.flatMap((od) =>
          values.get('cs')!.map(
            (cs) =>
              new Map<string, OptionValue>([
                ['od', od],
                ['cs', cs],
              ]),
          ),
        );
        const meets = all.filter((choice) =>
          when.every(({ option, value, isWith }) => {
            const has = value === null ? choice.get(option) === true : choice.get(option) === value;
            return isWith ? has : !has;
          }),
        );
        seen[meets.length > 0 ? 'yes' : 'no']++;
        expect(areContrary(when, (option) => values.get(option))).toBe(meets.length === 0);
        for (const choice of all) expect(isMet(when, choice)).toBe(meets.includes(choice));
        // Without the set file only what can be known is said.
        if (areContrary(when)) expect(meets).toEqual([]);
      }),
    );
    expect(Math.min(seen.yes, seen.no)).toBeGreaterThan(5);
  });
});
