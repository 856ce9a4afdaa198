import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { choicesToTry } from '../../src/pattern/choices.ts';
import type { Conditions, OptionValues } from '../../src/pattern/conditions.ts';
import type { SetContent } from '../../src/pattern/set-file.ts';

type Options = NonNullable<SetContent['options']>;

const letters = [...'abcdefghij'];

/** So many options; 0 values: it is there or not. The default is one of its values. */
const randomOptions: fc.Arbitrary<Options> = fc
  .array(fc.tuple(fc.constantFrom(0, 0, 2, 3, 4), fc.nat()), { maxLength: 9 })
  .map((sizes) =>
    Object.fromEntries(
      sizes.map(([size, pick], i) => {
        const values = Array.from({ length: size }, (_, k) => `v${k}`);
        const words = { words: letters[i]! };
        return size === 0
          ? [letters[i]!, { ...words, default: pick % 2 === 1 }]
          : [letters[i]!, { ...words, values, default: values[pick % size]! }];
      }),
    ),
  );

function valuesOf(options: Options, name: string): (string | boolean)[] {
  return options[name]!.values ?? [true, false];
}

function tried(options: Options, conditions: readonly Conditions[] = []): OptionValues[] {
  return choicesToTry({ options }, new Set(Object.keys(options)), conditions);
}

describe('the choices with which a set is tried', () => {
  it('are all of them where there are few, and else have every pair of values', () => {
    const seen = { all: 0, pairs: 0 };
    fc.assert(
      fc.property(randomOptions, (options) => {
        const names = Object.keys(options);
        const list = tried(options);
        const count = names.reduce((product, name) => product * valuesOf(options, name).length, 1);
        for (const choice of list) {
          expect([...choice.keys()].sort()).toEqual(names);
          for (const [name, value] of choice) expect(valuesOf(options, name)).toContain(value);
        }
        const distinct = new Set(
          list.map((choice) => names.map((name) => choice.get(name)).join()),
        );
        expect(distinct.size).toBe(list.length);
        if (count <= 64) {
          seen.all++;
          expect(list).toHaveLength(count);
          return;
        }
        seen.pairs++;
        expect(list.length).toBeLessThan(count);
        for (const one of names) {
          for (const other of names.filter((name) => name !== one)) {
            for (const a of valuesOf(options, one)) {
              for (const b of valuesOf(options, other)) {
                expect(
                  list.some((choice) => choice.get(one) === a && choice.get(other) === b),
                  `${one} ${a} with ${other} ${b}`,
                ).toBe(true);
              }
            }
          }
        }
      }),
    );
    expect(Math.min(seen.all, seen.pairs)).toBeGreaterThan(10);
  });

  it('begin with what is usual, and are the same each time', () => {
    fc.assert(
      fc.property(randomOptions, (options) => {
        const [first] = tried(options);
        for (const name of Object.keys(options)) {
          expect(first!.get(name)).toBe(options[name]!.default);
        }
        expect(tried(structuredClone(options))).toEqual(tried(options));
      }),
    );
  });

  it('have what goes with many options at once', () => {
    const options: Options = Object.fromEntries(
      letters.map((name) => [name, { words: name, default: false }]),
    );
    const all = letters.map((option) => ({ option, value: null, isWith: true }));
    const has = (list: readonly OptionValues[]): boolean =>
      list.some((choice) => letters.every((name) => choice.get(name) === true));
    // 1024 combinations; a short list of pairs has not this one.
    expect(has(tried(options))).toBe(false);
    expect(has(tried(options, [all]))).toBe(true);
    const never = [...all, { option: 'a', value: null, isWith: false }];
    expect(tried(options, [never])).toEqual(tried(options));
  });

  it('leave options alone that no layer names', () => {
    const options: Options = {
      a: { words: 'a', default: true },
      b: { words: 'b', default: false },
    };
    const list = choicesToTry({ options }, new Set(['b', 'unknown']), []);
    expect(list).toEqual([new Map([['b', false]]), new Map([['b', true]])]);
  });
});
