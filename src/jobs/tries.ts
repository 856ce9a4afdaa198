import { join } from 'node:path';
import type { Finding } from '../base/findings.ts';
import { distinctFindings } from '../base/findings.ts';
import { namesIn } from '../base/named-file.ts';
import type { SetChoice } from '../pattern/choice.ts';
import type { OptionValue } from '../pattern/conditions.ts';
import type { SetFiles } from '../pattern/set.ts';
import { optionsToTry } from '../pattern/set.ts';
import { fitsUse, readKnownMaterials } from '../pattern/shop/material.ts';
import type { Use } from '../pattern/words.ts';
import { uses } from '../pattern/words.ts';

/** One choice with which a set is checked, and what it chooses by the name of an option or a use. */
export interface Try {
  readonly choice: SetChoice;
  readonly values: ReadonlyMap<string, OptionValue>;
}

/**
 * The choices with which a set is checked; the first is what is usual. Options are combined (see
 * choicesToTry). Of materials, each is tried that the shop has and an order may choose for a use, one use
 * at a time: uses do not change each other, nor do options change what a material needs.
 */
export function triesOf(files: SetFiles, sharedFolder: string): Try[] {
  const { uses: usual = {} } = files.written;
  const chosen = uses.filter((use) => usual[use] !== undefined);
  const asUsual = chosen.map((use): [string, string] => [use, usual[use]!]);
  const ofOptions = optionsToTry(files).map((values): Try => ({
    choice: { options: Object.fromEntries(values) },
    values: new Map([...optionKeys(values), ...asUsual]),
  }));
  const [first] = ofOptions as [Try, ...Try[]];
  const others = chosen.flatMap((use) =>
    fitting(use, sharedFolder)
      .filter((name) => name !== usual[use])
      .map((name): Try => ({
        choice: { ...first.choice, materials: { [use]: name } },
        values: new Map([...first.values, [use, name]]),
      })),
  );
  return [...ofOptions, ...others];
}

/** Options by names that no use has. */
function optionKeys(values: ReadonlyMap<string, OptionValue>): [string, OptionValue][] {
  return [...values].map(([option, value]) => [optionKey(option), value]);
}

const mark = 'option ';

function optionKey(option: string): string {
  return `${mark}${option}`;
}

/** The materials of the shop that can be read and that may be chosen for a use. */
function fitting(use: Use, sharedFolder: string): string[] {
  const names = namesIn(join(sharedFolder, 'materials'));
  const { materials } = readKnownMaterials(new Map(names.map((name) => [name, {}])), sharedFolder);
  return names.filter((name) => {
    const material = materials.get(name);
    return material !== undefined && fitsUse(material, use);
  });
}

/**
 * The findings of all tries, each once. One that only some choices have says with which; one that all have
 * says nothing of it.
 */
export function toldByChoice(
  tries: readonly Try[],
  found: readonly (readonly Finding[])[],
): Finding[] {
  const told = new Map<string, { finding: Finding; by: Set<Try> }>();
  for (const [i, one] of tries.entries()) {
    for (const finding of distinctFindings(found[i]!)) {
      const key = JSON.stringify(finding);
      const known = told.get(key) ?? { finding, by: new Set() };
      told.set(key, known);
      known.by.add(one);
    }
  }
  return [...told.values()].map(({ finding, by }) => {
    if (by.size === tries.length) return finding;
    return { ...finding, where: { ...finding.where, choice: wordTries(by, tries) } };
  });
}

/** Some of the tries in words that are true of no other: `with overdrive and with console long`. */
function wordTries(some: ReadonlySet<Try>, tries: readonly Try[]): string {
  const names = [...tries[0]!.values.keys()];
  const had = new Map(names.map((name) => [name, valuesIn(some, name)]));
  const isIn = (by: readonly string[]) => (one: Try) =>
    by.every((name) => had.get(name)!.has(one.values.get(name)!));
  const areThey = (by: readonly string[]): boolean => tries.filter(isIn(by)).length === some.size;
  if (!areThey(names)) return wordParts(some, tries, names);
  const needed = names.reduce((by, name) => {
    const fewer = by.filter((one) => one !== name);
    return areThey(fewer) ? fewer : by;
  }, names);
  return needed.map((name) => wordValues(name, [...had.get(name)!])).join(' and ');
}

function valuesIn(tries: Iterable<Try>, name: string): Set<OptionValue> {
  return new Set([...tries].map(({ values }) => values.get(name)!));
}

/** Tries that no single list of values tells from all others, value by value of what divides them first. */
function wordParts(
  some: ReadonlySet<Try>,
  tries: readonly Try[],
  names: readonly string[],
): string {
  const divider = names.find((name) => valuesIn(some, name).size > 1)!;
  return [...valuesIn(some, divider)]
    .map((value) => [...some].filter(({ values }) => values.get(divider) === value))
    .map((part) => wordTries(new Set(part), tries))
    .join(', or ');
}

function wordValues(name: string, values: readonly OptionValue[]): string {
  if (!name.startsWith(mark)) return `with ${values.join(' or ')} as ${name}`;
  const option = name.slice(mark.length);
  const [first] = values;
  if (typeof first === 'string') return `with ${option} ${values.join(' or ')}`;
  return `${first === true ? 'with' : 'without'} ${option}`;
}
