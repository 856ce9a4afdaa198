import { join } from 'node:path';
import type { Finding, Place } from '../base/findings.ts';
import { errorFinding } from '../base/findings.ts';
import { namesIn } from '../base/named-file.ts';
import { shownNames } from '../base/wording.ts';
import { useOf } from '../handing/colour.ts';
import type { Order } from '../handing/order.ts';
import { chosenFor, edgeColourOf } from '../handing/order-choices.ts';
import type { Part } from '../handing/part.ts';
import { meansPart } from '../handing/selection.ts';
import { wrongOptions } from '../pattern/choice.ts';
import type { PatternSet } from '../pattern/set.ts';
import type { Material, Materials } from '../pattern/shop/material.ts';
import { fitsUse, materialOf } from '../pattern/shop/material.ts';
import type { Use } from '../pattern/words.ts';
import { uses } from '../pattern/words.ts';

/** An order, its set as it has chosen it, and the parts of that set for it: those it wants, and all. */
export interface OrderedSet {
  readonly order: Order;
  readonly set: PatternSet;
  readonly parts: readonly Part[];
  readonly whole: readonly Part[];
}

/** Finds the place of a key of an order in the run file. */
export type PlaceInOrder = (...keys: readonly (string | number)[]) => Place;

/** What can be said of an order before its set is read: the finish that it names is there. */
export function finishFindings(
  { order, edge }: Order,
  sharedFolder: string,
  placeOf: PlaceInOrder,
): Finding[] {
  const finish = edge?.finish;
  if (finish === undefined) return [];
  const known = namesIn(join(sharedFolder, 'bindings'));
  if (known.includes(finish)) return [];
  const message = `order "${order}" wants its edges finished with "${finish}", and the shop has no such finish.`;
  return [errorFinding('finish', message, has(known), placeOf('edge', 'finish'))];
}

/** What an order chooses of its set, and the set does not have: options, and materials for uses. */
export function choiceFindings(
  order: Order,
  set: PatternSet,
  sharedFolder: string,
  placeOf: PlaceInOrder,
): Finding[] {
  const materials = namesIn(join(sharedFolder, 'materials'));
  return [
    ...optionFindings(order, set, placeOf),
    ...uses.flatMap((use): Finding[] => {
      const { material } = chosenFor(order, use);
      if (material === undefined) return [];
      const where = placeOf(use, 'material');
      const asked = `order "${order.order}" chooses ${material} for its ${use}`;
      if (set.content.uses?.[use] === undefined) {
        const todo = `Take it out of the order, or say in the set file what its ${use} is: "uses: { ${use}: ... }".`;
        return [
          errorFinding('no-use', `${asked}, and the set does not let it choose.`, todo, where),
        ];
      }
      if (materials.includes(material)) return [];
      return [
        errorFinding(
          'unknown-name',
          `${asked}, and there is no such material.`,
          has(materials),
          where,
        ),
      ];
    }),
  ];
}

function optionFindings(
  { order, options = {} }: Order,
  { content }: PatternSet,
  placeOf: PlaceInOrder,
): Finding[] {
  return wrongOptions(content, { options }).map(({ name, value, values }): Finding => {
    const where = placeOf('options', name);
    if (values === null) {
      const message = `order "${order}" names the option "${name}", and the set has no such option.`;
      return errorFinding('option', message, has(Object.keys(content.options ?? {})), where);
    }
    const message = `order "${order}" says ${name}: ${value}.`;
    return errorFinding('option-value', message, `It can be ${values.join(', ')}.`, where);
  });
}

/** What is wrong with an order once its parts are known: materials, colours, what it wants of the set. */
export function orderFindings(
  ordered: OrderedSet,
  materials: Materials,
  placeOf: PlaceInOrder,
): Finding[] {
  return [
    ...selectionFindings(ordered, placeOf),
    ...kindFindings(ordered.order, materials, placeOf),
    ...colourFindings(ordered, materials, placeOf),
    ...edgeColourFindings(ordered, placeOf),
    ...padFindings(ordered, placeOf),
  ];
}

/** Heel pads on both sides are asked for, and no part of the order has one. */
function padFindings({ order, parts }: OrderedSet, placeOf: PlaceInOrder): Finding[] {
  const hasPad = parts.some(({ marks }) => marks.some(({ role }) => role === 'PAD'));
  if (order.heelPads !== 'both' || hasPad || order.alone !== undefined) return [];
  const message = `order "${order.order}" wants heel pads on both sides, and nothing that it wants has any.`;
  const todo = 'Look whether the set, its options or what is left out is right.';
  return [{ severity: 'warning', rule: 'no-pads', message, todo, where: placeOf('heelPads') }];
}

/** Every name under `alone` and `without` means a part, and something is left to cut. */
function selectionFindings(
  { order, set, parts, whole }: OrderedSet,
  placeOf: PlaceInOrder,
): Finding[] {
  const { groups } = set.content;
  const names = [...new Set([...Object.keys(groups ?? {}), ...whole.map(({ piece }) => piece)])];
  const unknown = (['alone', 'without'] as const).flatMap((key) =>
    (order[key] ?? []).flatMap((name, i): Finding[] => {
      if (whole.some((part) => meansPart(name, part, groups))) return [];
      // A piece that is not there for this hand or with these options need not be left out.
      if (key === 'without' && isKnown(name, set)) return [];
      const message = `order "${order.order}" names "${name}", and no part of this order is called so.`;
      const todo = `There are: ${shownNames(names, 30)}; with -left or -right behind it one side of a piece.`;
      return [errorFinding('order-part', message, todo, placeOf(key, i))];
    }),
  );
  if (parts.length > 0 || unknown.length > 0) return unknown;
  const message = `order "${order.order}" wants no part at all.`;
  const todo = 'Take names out of "without", or take out the order.';
  return [
    errorFinding(
      'empty-order',
      message,
      todo,
      placeOf(order.alone === undefined ? 'without' : 'alone'),
    ),
  ];
}

/** Whether a name is that of a piece of the set or of a group, whether or not it is cut for an order. */
function isKnown(name: string, { content: { pieces, groups = {} } }: PatternSet): boolean {
  return Object.hasOwn(pieces, name) || Object.hasOwn(groups, name);
}

/** What is chosen for a use is of the kind that is used so. */
function kindFindings(order: Order, materials: Materials, placeOf: PlaceInOrder): Finding[] {
  return uses.flatMap((use): Finding[] => {
    const { material: name } = chosenFor(order, use);
    const material = name === undefined ? undefined : materials.get(name);
    if (material === undefined || fitsUse(material, use)) return [];
    const message = `order "${order.order}" chooses ${material.title} for its ${use}, and that is ${material.kind}.`;
    const fitting = [...materials.values()].filter((one) => fitsUse(one, use));
    return [
      errorFinding(
        'wrong-kind',
        message,
        has(fitting.map((one) => one.name)),
        placeOf(use, 'material'),
      ),
    ];
  });
}

/** The colour of each part is known, and its material is kept in it. */
function colourFindings(
  { order, set, parts }: OrderedSet,
  materials: Materials,
  placeOf: PlaceInOrder,
): Finding[] {
  const wanted = new Map<string, { use: Use; material: Material; part: Part }>();
  for (const part of parts) {
    const material = materialOf(materials, part.material);
    const use = useOf(part, set);
    const key = `${use} ${part.material}`;
    if (!wanted.has(key)) wanted.set(key, { use, material, part });
  }
  const found = [...wanted.values()].flatMap(({ use, material, part }): Finding[] => {
    const { colour } = chosenFor(order, use);
    const kept = Object.keys(material.colours ?? {});
    const where = placeOf(use, 'colour');
    if (material.colours === undefined) {
      if (colour === undefined) return [];
      const message = `order "${order.order}" wants its ${use} in ${colour}, and ${material.title} is kept in no colours.`;
      const todo = `Take the colour out of the order, or add it under "colours" in shared/materials/${material.name}.yaml.`;
      return [errorFinding('colour', message, todo, where)];
    }
    if (part.colour !== undefined && (colour === undefined || colour === part.colour)) return [];
    const said =
      colour === undefined
        ? `does not say the colour of its ${use}, and ${material.title} is kept in several`
        : `wants its ${use} in ${colour}, and ${material.title} is not kept in it`;
    const todo =
      colour === undefined
        ? `${howToSay(where, use, 'colour')} Colours: ${shownNames(kept, 30)}.`
        : `Colours: ${shownNames(kept, 30)}.`;
    return [errorFinding('colour', `order "${order.order}" ${said}.`, todo, where)];
  });
  return [
    ...found,
    ...idleFindings(order, new Set([...wanted.values()].map(({ use }) => use)), placeOf),
  ];
}

/** A warning for each use for which an order chooses, and of which it wants no part. */
function idleFindings(order: Order, wanted: ReadonlySet<Use>, placeOf: PlaceInOrder): Finding[] {
  // Who orders part of a set leaves out on purpose.
  if (order.alone !== undefined || order.without !== undefined) return [];
  return uses.flatMap((use): Finding[] => {
    if (wanted.has(use) || Object.keys(chosenFor(order, use)).length === 0) return [];
    return [
      {
        severity: 'warning',
        rule: 'choice-idle',
        message: `order "${order.order}" chooses for its ${use}, and no part of it is one.`,
        todo: 'Look whether something is left out of the order that should be there.',
        where: placeOf(use),
      },
    ];
  });
}

/** Edges are to be finished in a colour in which the shop keeps the tape, and the order says in which. */
function edgeColourFindings({ order, set, parts }: OrderedSet, placeOf: PlaceInOrder): Finding[] {
  const colour = edgeColourOf(order);
  const { binding } = set;
  const colours = binding?.colours;
  if (colours === undefined || (colour !== undefined && colours.includes(colour))) return [];
  const done = binding!.kind === 'tape' ? 'bound' : 'overlocked';
  const kept = `Colours: ${colours.join(', ')}.`;
  if (colour === undefined) {
    const isDone = parts.some(({ edges }) => edges.some(({ kind }) => kind === 'bound'));
    if (!isDone) return [];
    const where = placeOf('edge', 'colour');
    const message = `order "${order.order}" does not say in which colour its edges are ${done}.`;
    const todo = `${howToSay(where, 'edge', 'colour')} ${kept} Otherwise the bench must ask.`;
    return [{ severity: 'warning', rule: 'edge-colour', message, todo, where }];
  }
  const message = `order "${order.order}" is to be ${done} in ${colour}, and ${binding!.title} is not kept in it.`;
  const where = order.binding === undefined ? placeOf('edge', 'colour') : placeOf('binding');
  return [errorFinding('binding-colour', message, kept, where)];
}

/** How a key of an order is said: by a cell of the column that the place names, or in a run file. */
function howToSay({ heading }: Place, of: string, key: string): string {
  return heading === undefined
    ? `Add "${of}: { ${key}: ... }".`
    : `Fill in the column ${of}.${key}.`;
}

function has(names: readonly string[]): string {
  return names.length === 0 ? 'There is none.' : `There are: ${shownNames(names, 30)}.`;
}
