import { stringify } from 'yaml';
import { leftOutKey, numberedKey, pieceKey, textsKey } from '../set-file.ts';
import type { FirstOption, FirstPiece, FirstSet } from './first-set.ts';

/** Something that somebody must still answer about a set or a piece. */
export interface FirstQuestion {
  readonly key: string;
  /** The value that is proposed, in words. null: the question is about what is drawn. */
  readonly value: string | null;
  readonly why: string;
}

/** What is asked about a piece: the keys whose values are guesses, and texts that somebody must read. */
export function questionsAbout(piece: FirstPiece): FirstQuestion[] {
  const { side, drawnSide, quantity, quantityWhy, half, material, doubt, texts } = piece;
  return asked([
    [pieceKey, null, doubt],
    ['side', side.value, side.why],
    ['drawnSide', drawnSide?.value ?? null, drawnSide?.why ?? null],
    ['quantity', String(quantity), quantityWhy],
    ['half', half === null ? null : 'true', half],
    ['material', material.value, material.why],
    [textsKey, null, texts],
  ]);
}

/** What is asked about the set as a whole. */
export function questionsAboutSet(set: FirstSet): FirstQuestion[] {
  const { title, hand, pile, options, leftOut, numbered, outlineLayers, doubt } = set;
  const layers = outlineLayers.map((layer) => `${layer}: OUTLINE`).join(', ');
  return asked([
    ['title', title.value, title.why],
    ['drawn', hand.value, hand.why],
    ['pile', pile.value, pile.why],
    [numberedKey, null, numbered],
    ['layers', layers, doubt],
    [
      'options',
      options.map(({ name }) => name).join(', '),
      options.length === 0 ? null : ofOptions,
    ],
    [leftOutKey, null, leftOut],
  ]);
}

const ofOptions =
  'layers name them, and the drawing does not say what they are called, what values there are and what is usual';

function asked(
  all: readonly (readonly [key: string, value: string | null, why: string | null])[],
): FirstQuestion[] {
  return all.flatMap(([key, value, why]) => (why === null ? [] : [{ key, value, why }]));
}

/** The text of the set file. Each guess stands under `open:` with its reason. */
export function firstSetFile(set: FirstSet): string {
  return [
    '# A first set file, made from a drawing. What stands under "open:" the drawing does not say, and',
    '# nothing is cut until it is answered: correct the value where it is wrong, then take the line out of',
    '# "open:". "pileway check" shows what is left.',
    `title: ${scalar(set.title.value)}`,
    `drawn: ${set.hand.value}`,
    ...(set.drawnBy === null ? [] : [`drawnBy: ${scalar(set.drawnBy)}`]),
    'units: mm',
    `drawing: ${set.drawing}`,
    `pile: ${set.pile.value}`,
    ...layerLines(set),
    ...optionLines(set.options),
    ...openLines(questionsAboutSet(set), ''),
    '',
    'pieces:',
    ...set.pieces.flatMap(pieceLines),
    '',
  ].join('\n');
}

function layerLines({ outlineLayers, shortened, answers }: FirstSet): string[] {
  const layers = [
    ...outlineLayers.map((layer) => `${scalar(layer)}: OUTLINE`),
    ...[...shortened].map(([layer, means]) => `${layer}: ${means}`),
    ...[...answers].map(([layer, means]) => `${scalar(layer)}: ${means}`),
  ];
  return layers.length === 0 ? [] : [`layers: { ${layers.join(', ')} }`];
}

function optionLines(options: readonly FirstOption[]): string[] {
  if (options.length === 0) return [];
  return [
    'options:',
    ...options.map(({ name, values }) =>
      values.length === 0
        ? `  ${scalar(name)}: { words: ${scalar(name)}, default: false }`
        : `  ${scalar(name)}: { words: ${scalar(name)}, values: [${values.map(scalar).join(', ')}], default: ${scalar(values[0]!)} }`,
    ),
  ];
}

function pieceLines(piece: FirstPiece): string[] {
  const { name, block, side, drawnSide, half, quantity, material } = piece;
  return [
    `  ${/^\d+$/.test(name) ? `"${name}"` : name}:`,
    ...(block === name.toUpperCase() ? [] : [`    block: ${block}`]),
    `    side: ${side.value}`,
    ...(drawnSide === null ? [] : [`    drawnSide: ${drawnSide.value}`]),
    ...(half === null ? [] : ['    half: true']),
    ...(quantity === 1 ? [] : [`    quantity: ${quantity}`]),
    `    material: ${material.value}`,
    ...openLines(questionsAbout(piece), '    '),
  ];
}

function openLines(questions: readonly FirstQuestion[], indent: string): string[] {
  if (questions.length === 0) return [];
  return [
    `${indent}open:`,
    ...questions.map(({ key, why }) => `${indent}  ${key}: ${scalar(why.replaceAll(/\s+/g, ' '))}`),
  ];
}

/** A text as YAML, in quotes where it needs them. */
function scalar(text: string): string {
  return stringify(text, { lineWidth: 0 }).trimEnd();
}
