/** The value of an option: whether it is there, or which of its values it has. */
export type OptionValue = boolean | string;

/** The value of each option of a set, by its name. */
export type OptionValues = ReadonlyMap<string, OptionValue>;

/** What a layer asks of one option: `-WITH-OVERDRIVE`, `-WITHOUT-CONSOLE-LONG`. */
export interface Condition {
  readonly option: string;
  /** null: the option is there or it is not. */
  readonly value: string | null;
  /** Whether what is drawn is there with that value, or with every other. */
  readonly isWith: boolean;
}

/** All of them must be met. None: it is always there. */
export type Conditions = readonly Condition[];

const joiners = new Set(['WITH', 'WITHOUT']);

/** An option or a value cannot be called so: it would not be told from what joins conditions. */
export function isJoiner(name: string): boolean {
  return joiners.has(name.toUpperCase());
}

/**
 * Reads what stands behind the role in the name of a layer, divided at hyphens and in capitals: WITH or
 * WITHOUT, an option, its value if it has values; and so on. null: it is something else. In whichever order
 * they were written, the same conditions come out the same.
 */
export function parseConditions(words: readonly string[]): Conditions | null {
  const starts = words.flatMap((word, i) => (isJoiner(word) ? [i] : []));
  if (words.length > 0 && starts[0] !== 0) return null;
  const found = starts.map((start, i) => words.slice(start, starts[i + 1] ?? words.length));
  const areSound = found.every(
    ([, ...names]) => names.length > 0 && names.length < 3 && names.every(isName),
  );
  if (!areSound) return null;
  return inOrder(
    found.map(([joiner, option, value]) => ({
      option: option!.toLowerCase(),
      value: value?.toLowerCase() ?? null,
      isWith: joiner === 'WITH',
    })),
  );
}

function isName(word: string): boolean {
  return /^[A-Z0-9]+$/.test(word);
}

/** Conditions in a standard order, each once. */
function inOrder(conditions: Conditions): Conditions {
  const byName = new Map(conditions.map((one) => [conditionSuffix([one]), one]));
  return [...byName].toSorted(([a], [b]) => (a < b ? -1 : 1)).map(([, one]) => one);
}

/** Two lists of conditions, all of which must be met, as one. */
export function bothConditions(one: Conditions, other: Conditions): Conditions {
  return inOrder([...one, ...other]);
}

/** What stands behind the role in the name of the layer: `-WITH-OVERDRIVE`. Empty: no conditions. */
export function conditionSuffix(conditions: Conditions): string {
  return conditions
    .map(({ option, value, isWith }) =>
      ['', isWith ? 'WITH' : 'WITHOUT', option, ...(value === null ? [] : [value])].join('-'),
    )
    .join('')
    .toUpperCase();
}

/** The conditions in words: `with overdrive and without console long`. */
export function wordConditions(conditions: Conditions): string {
  return conditions
    .map(({ option, value, isWith }) =>
      [isWith ? 'with' : 'without', option, ...(value === null ? [] : [value])].join(' '),
    )
    .join(' and ');
}

/** Whether what is drawn so is there where the options have these values. */
export function isMet(conditions: Conditions, values: OptionValues): boolean {
  return conditions.every(
    ({ option, value, isWith }) => (values.get(option) === (value ?? true)) === isWith,
  );
}

/**
 * Whether no choice of options meets all conditions. `valuesOf`: all values that an option can have; where
 * nothing is known of it, any.
 */
export function areContrary(
  conditions: Conditions,
  valuesOf: (option: string) => readonly OptionValue[] | undefined = () => undefined,
): boolean {
  const options = [...new Set(conditions.map(({ option }) => option))];
  return options.some((option) => {
    const own = conditions.filter((one) => one.option === option);
    const named = own.map(({ value }) => value ?? true);
    // A value that no condition names stands for all others.
    const values = valuesOf(option) ?? [...named, ...(named.includes(true) ? [false] : [''])];
    return values.every((value) => !isMet(own, new Map([[option, value]])));
  });
}

/**
 * Things in groups, each with the same conditions, in the order in which they come first: what is told of a
 * group is the same whichever other things are there.
 */
export function alikeInConditions<T>(
  things: readonly T[],
  conditionsOf: (thing: T) => Conditions,
): T[][] {
  const groups = new Map<string, T[]>();
  for (const thing of things) {
    const key = conditionSuffix(conditionsOf(thing));
    groups.set(key, [...(groups.get(key) ?? []), thing]);
  }
  return [...groups.values()];
}
