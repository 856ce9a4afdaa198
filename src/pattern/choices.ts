import { valuesOfOption } from './choice.ts';
import type { Conditions, OptionValue, OptionValues } from './conditions.ts';
import { isMet } from './conditions.ts';
import type { SetContent } from './set-file.ts';

type Options = Pick<SetContent, 'options'>;

/** So many combinations of options are tried one by one; of more, enough of them to try every pair. */
export const mostCombined = 64;

/** Every combination of values of these options of the set. What is usual comes first. */
export function everyChoice(content: Options, named: ReadonlySet<string>): OptionValues[] {
  return optionsNamed(content, named).reduce<OptionValues[]>(
    (all, { name, values }) =>
      all.flatMap((one) => values.map((value) => new Map([...one, [name, value]]))),
    [new Map()],
  );
}

/**
 * Choices of these options of the set that try what may be wrong with them: all combinations if there are
 * no more than mostCombined. Otherwise every value of an option occurs with every value of every other, and
 * what goes with three options or more, as `conditions` say, is there once. What is usual comes first.
 */
export function choicesToTry(
  content: Options,
  named: ReadonlySet<string>,
  conditions: readonly Conditions[],
): OptionValues[] {
  const options = optionsNamed(content, named);
  const usual = new Map(options.map(({ name, values }) => [name, values[0]!]));
  const count = options.reduce((product, { values }) => product * values.length, 1);
  if (count <= mostCombined) return everyChoice(content, named);
  const pairs = pairwise(options, usual);
  const missed = conditions.filter((when) => !pairs.some((one) => isMet(when, one)));
  return [...pairs, ...missed.flatMap((when) => meeting(when, options, usual))];
}

interface NamedOption {
  readonly name: string;
  /** What is usual comes first. */
  readonly values: readonly OptionValue[];
}

function optionsNamed(content: Options, named: ReadonlySet<string>): NamedOption[] {
  return Object.entries(content.options ?? {}).flatMap(([name, { default: usual }]) => {
    if (!named.has(name)) return [];
    const others = valuesOfOption(content, name)!.filter((value) => value !== usual);
    return [{ name, values: [usual, ...others] }];
  });
}

/**
 * A list in which each value of an option occurs with each value of every other, found greedily: each
 * choice begins with a pair that is missing, and takes of every other option the value that makes the most
 * missing pairs.
 */
function pairwise(options: readonly NamedOption[], usual: OptionValues): OptionValues[] {
  const missing = new Set(allPairs(options));
  const list: OptionValues[] = [];
  const add = (choice: OptionValues): void => {
    list.push(choice);
    for (const pair of pairsOf(options, choice)) missing.delete(pair);
  };
  add(usual);
  for (;;) {
    const [first] = missing;
    if (first === undefined) return list;
    const choice = new Map<string, OptionValue>(JSON.parse(first) as [string, OptionValue][]);
    for (const { name, values } of options.filter((option) => !choice.has(option.name))) {
      const gained = values.map((value) => {
        const made = [...choice].filter(([other, theirs]) =>
          missing.has(pairKey(options, [name, value], [other, theirs])),
        );
        return made.length;
      });
      choice.set(name, values[gained.indexOf(Math.max(...gained))]!);
    }
    add(choice);
  }
}

type Pair = readonly [name: string, value: OptionValue];

function allPairs(options: readonly NamedOption[]): string[] {
  return options.flatMap((one, i) =>
    options
      .slice(i + 1)
      .flatMap((other) =>
        one.values.flatMap((value) =>
          other.values.map((theirs) => pairKey(options, [one.name, value], [other.name, theirs])),
        ),
      ),
  );
}

function pairsOf(options: readonly NamedOption[], choice: OptionValues): string[] {
  return options.flatMap(({ name }, i) =>
    options
      .slice(i + 1)
      .map((other) =>
        pairKey(options, [name, choice.get(name)!], [other.name, choice.get(other.name)!]),
      ),
  );
}

/** A pair as a text, the same whichever is named first. */
function pairKey(options: readonly NamedOption[], one: Pair, other: Pair): string {
  const place = ([name]: Pair): number => options.findIndex((option) => option.name === name);
  return JSON.stringify(place(one) < place(other) ? [one, other] : [other, one]);
}

/** A choice that meets conditions, as usual in all else. None: no choice does. */
function meeting(
  when: Conditions,
  options: readonly NamedOption[],
  usual: OptionValues,
): OptionValues[] {
  const found = options.map(({ name, values }): [string, OptionValue | undefined] => {
    const own = when.filter(({ option }) => option === name);
    return [name, values.find((value) => isMet(own, new Map([[name, value]])))];
  });
  if (found.some(([, value]) => value === undefined)) return [];
  return [new Map([...usual, ...(found as [string, OptionValue][])])];
}
