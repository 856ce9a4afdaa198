import { join } from 'node:path';
import type { Finding } from '../base/findings.ts';
import { findingsWithTellers } from '../base/findings.ts';
import { namesIn } from '../base/named-file.ts';
import type { SetChoice } from '../pattern/choice.ts';
import type { OptionValue } from '../pattern/conditions.ts';
import type { SetFiles } from '../pattern/set.ts';
import { optionsToTry } from '../pattern/set.ts';
import type { Material } from '../pattern/shop/material.ts';
import { fitsUse, readKnownMaterials } from '../pattern/shop/material.ts';
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
  const known = chosen.length === 0 ? [] : shopMaterials(sharedFolder);
  const others = chosen.flatMap((use) =>
    known
      .filter((material) => fitsUse(material, use) && material.name !== usual[use])
      .map(({ name }): Try => ({
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

/** The materials of the shop that can be read, as their names have it. */
function shopMaterials(sharedFolder: string): Material[] {
  const names = namesIn(join(sharedFolder, 'materials'));
  const { materials } = readKnownMaterials(new Map(names.map((name) => [name, {}])), sharedFolder);
  return names.flatMap((name) => materials.get(name) ?? []);
}

/**
 * The findings of all tries, each once. One that only some choices have says with which; one that all have
 * says nothing of it.
 */
export function toldByChoice(
  tries: readonly Try[],
  found: readonly (readonly Finding[])[],
): Finding[] {
  const tellers = tries.map((own, i) => ({ own, findings: found[i]! }));
  return findingsWithTellers(tellers).map(({ finding, by }) => {
    if (by.length === tries.length) return finding;
    const choice = wordTries(new Set(by.map(({ own }) => own)), tries);
    return { ...finding, where: { ...finding.where, choice } };
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
