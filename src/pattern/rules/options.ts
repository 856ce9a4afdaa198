import type { Finding, Place } from '../../base/findings.ts';
import { shownNames } from '../../base/wording.ts';
import type { YamlFile } from '../../base/yaml.ts';
import { valuesOfOption } from '../choice.ts';
import type { Condition, Conditions } from '../conditions.ts';
import { areContrary } from '../conditions.ts';
import type { SetContent } from '../set-file.ts';

/** A layer of a piece that goes with options. */
export interface OptionalLayer {
  /** Its name in the drawing, and the name that this stands for. */
  readonly layer: string;
  readonly means: string;
  readonly when: Conditions;
  /** The piece, and the first thing that is drawn on it there. */
  readonly where: Place;
}

/**
 * Rules: what a layer names behind WITH or WITHOUT is an option of the set, with a value if it has values;
 * what is drawn is there in some choice; and every option is named by a layer, because an order that says
 * it would otherwise change nothing.
 */
export function checkOptions(
  { value, placeOf }: YamlFile<SetContent>,
  layers: readonly OptionalLayer[],
): Finding[] {
  const options = value.options ?? {};
  const named = new Set(layers.flatMap(({ when }) => when.map(({ option }) => option)));
  const wrong = layersAlike(layers).flatMap((alike) => wrongLayer(alike, value));
  // The option may be meant by a layer that names it wrongly.
  if (wrong.some(({ rule }) => rule === 'layer-option')) return wrong;
  const idle = Object.keys(options).filter((option) => !named.has(option));
  return [
    ...wrong,
    ...idle.map((option): Finding => ({
      severity: 'error',
      rule: 'option-idle',
      message: `the set has an option "${option}", and no layer of its pieces names it: an order that says it would change nothing.`,
      todo: `Draw what goes with it on layers like ${exampleLayer(option, value)}, or take it out of "options".`,
      where: placeOf(['options', option]),
    })),
  ];
}

function exampleLayer(option: string, content: SetContent): string {
  const [value] = valuesOfOption(content, option) ?? [];
  return `HOLE-WITH-${option}${typeof value === 'string' ? `-${value}` : ''}`.toUpperCase();
}

/** The layers of one name and meaning, on whichever pieces. */
function layersAlike(layers: readonly OptionalLayer[]): OptionalLayer[][] {
  const names = [...new Set(layers.map(nameOf))];
  return names.map((name) => layers.filter((one) => nameOf(one) === name));
}

/** The name of a layer; that of an own one with what it stands for. */
function nameOf({ layer, means }: OptionalLayer): string {
  return layer.toUpperCase().includes('-WITH') ? layer : `${layer} (${means})`;
}

function wrongLayer(alike: readonly OptionalLayer[], content: SetContent): Finding[] {
  const [first] = alike as [OptionalLayer];
  const { when, where } = first;
  const pieces = [...new Set(alike.map((one) => one.where.piece!))];
  const on = pieces.length === 1 ? '' : ` It is on the pieces ${shownNames(pieces)}.`;
  const tell = (rule: string, message: string, todo: string): Finding => ({
    severity: 'error',
    rule,
    message: `the layer ${nameOf(first)} ${message}.${on}`,
    todo,
    where,
  });
  const wrong = when.flatMap((condition) => wrongCondition(condition, content, tell));
  if (wrong.length > 0) return wrong;
  if (!areContrary(when, (option) => valuesOfOption(content, option))) return [];
  const message =
    'goes with options that no vehicle has together, so that nothing on it is ever there';
  return [tell('layer-never', message, 'Correct its name.')];
}

function wrongCondition(
  { option, value }: Condition,
  content: SetContent,
  tell: (rule: string, message: string, todo: string) => Finding,
): Finding[] {
  const values = valuesOfOption(content, option);
  if (values === undefined) {
    const known = Object.keys(content.options ?? {});
    const message = `names an option "${option}", and the set has none of that name`;
    const there = known.length === 0 ? 'The set has no options' : `Options: ${shownNames(known)}`;
    const todo = `${there}. Correct the layer, or describe it under "options" of the set file.`;
    return [tell('layer-option', message, todo)];
  }
  if (values.includes(value ?? true)) return [];
  const list = values.join(', ');
  if (value === null) {
    const message = `names the option "${option}" without a value, and it has several`;
    return [tell('layer-option-value', message, `Write one of ${list} behind it.`)];
  }
  const message = `says "${value}" of the option "${option}", and it has no such value`;
  const todo = values.includes(true)
    ? `It is there or it is not: end the name with ${option.toUpperCase()}.`
    : `Values: ${list}.`;
  return [tell('layer-option-value', message, todo)];
}
