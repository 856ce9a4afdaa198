import type { Type } from '../documents/pdf.ts';
import { cutToWidth, lineHeight, linesOfText, softInk, widthOfText } from '../documents/pdf.ts';
import { labelCloth, wordShape } from '../facts/order-words.ts';
import type { LabelLine } from './label-steps.ts';
import { smallest, stepLines, labelSteps, wrappedSteps } from './label-steps.ts';
import type { PartLabel } from './part-label.ts';

/** Lines of one kind, one below the other. */
interface Block {
  readonly lines: readonly string[];
  readonly type: Type;
}

/** Labels less high than this (mm) have smaller type and no title. */
const roomy = 45;
const sizes = {
  large: { name: 13, side: 11, order: 10, rest: 9 },
  small: { name: 11, side: 9.5, order: 8, rest: 8 },
  least: { name: smallest, side: smallest, order: smallest, rest: smallest },
} as const;
type Sizes = (typeof sizes)[keyof typeof sizes];

/** The space above steps, and above the foot, mm. */
const apart = { steps: 0.8, foot: 0.5 };
/**
 * What stands on a label in a column `width` mm wide and `height` mm high, on a label `labelHeight` mm high. Order
 * and count are whole wherever they have room at all: before them the name is cut off, and before the name all
 * else. What is cut off ends in `…`.
 */
export function labelLines(
  label: PartLabel,
  { width, height, labelHeight }: { width: number; height: number; labelHeight: number },
): LabelLine[] {
  const isSmall = labelHeight < roomy;
  const tried = isSmall ? [sizes.small, sizes.least] : [sizes.large, sizes.small, sizes.least];
  const must = (own: Sizes): Essentials => essentials(label, own, width, isSmall);
  const first = apart.steps + lineHeight(smallest);
  const own = tried.find((one) => heightOf(blocksOf(must(one))) + first <= height) ?? sizes.least;
  const steps = labelSteps(label.steps);
  const all = apart.steps + wrappedSteps(steps, smallest, width).length * lineHeight(smallest);
  const kept = reduced(must(own), width, height, { first, all });
  const left = height - heightOf(blocksOf(kept));
  const { above, foot, space } = optional(label, own, width, isSmall, left);
  const blocks = [...blocksOf(kept), ...above];
  const top = heightOf(blocks) + apart.steps;
  return [
    ...placed(blocks),
    ...stepLines(steps, width, top, height - space),
    ...foot.map((text) => ({
      text,
      type: { size: smallest, colour: softInk },
      top: height - lineHeight(smallest),
    })),
  ];
}

/** What every label has, from top to bottom. */
interface Essentials {
  readonly mark: Block;
  readonly name: Block;
  readonly side: Block;
  readonly shape: Block;
  readonly order: Block;
  /** The same as `order`, for where not all of it has room: what is cut off is the end of the order. */
  readonly countFirst: Block;
  readonly cloth: Block;
  /** Whether the colour stands before the material, and not beside the side. */
  readonly hasColour: boolean;
}

function blocksOf({ mark, name, side, shape, order, cloth }: Essentials): Block[] {
  return [mark, name, side, shape, order, cloth];
}

function essentials(label: PartLabel, own: Sizes, width: number, isSmall: boolean): Essentials {
  const { mark, name, shape = [], words = { lines: [] } } = label;
  const bold = (size: number): Type => ({ size, bold: true });
  const side = `${sideWords(label)}, ${label.hand}`;
  const withColour = `${side}, ${words.colour ?? ''}`;
  // On a small label the colour stands beside the side where it fits, since a line more costs a step.
  const isBeside = isSmall && words.colour !== undefined && fits(withColour, width, bold(smallest));
  const cloth = isBeside ? (words.cloth ?? '') : labelCloth(words);
  const isMarkApart = mark !== undefined && !isSmall;
  return {
    mark: block(isMarkApart ? mark : '', bold(own.name), width),
    name: block(
      mark === undefined || isMarkApart ? name : `${mark} ${name}`,
      bold(own.name),
      width,
    ),
    side: block(isBeside ? withColour : side, bold(own.side), width),
    shape: block(shapeWords(shape, width), bold(own.order), width),
    order: { lines: orderLines(label, width, own.order), type: { size: own.order } },
    countFirst: {
      lines: linesOfText(countFirst(label), width, { size: smallest }),
      type: { size: smallest },
    },
    cloth: block(cloth, { size: own.rest }, width),
    hasColour: words.colour !== undefined && !isBeside,
  };
}

/** A text in the largest type in which it is one line, or in lines of the smallest. */
function block(text: string, type: Type, width: number): Block {
  if (text === '') return { lines: [], type };
  let { size } = type;
  while (size > smallest && !fits(text, width, { ...type, size })) size -= 0.5;
  const own = { ...type, size };
  return { lines: linesOfText(text, width, own), type: own };
}

/** Order, set and which part of the order it is: in words if these have room, and in fewer words if not. */
function orderLines({ order, set, place }: PartLabel, width: number, size: number): string[] {
  const [which, ofSet] = [`order\u00A0${order}`, `set\u00A0${set}`];
  if (place === undefined) return linesOfText(`${which}, ${ofSet}`, width, { size });
  const count = `${place.number}\u00A0of\u00A0${place.of}`;
  const whole = [`${which}, ${ofSet}`, `part ${count} of this order`];
  if (whole.every((line) => fits(line, width, { size }))) return whole;
  const texts = [
    `${which}, ${ofSet}, part\u00A0${count}`,
    `${which}, ${ofSet}, ${count}`,
    `${order}, ${ofSet}, ${count}`,
  ];
  const [first, ...others] = texts.map((text) => linesOfText(text, width, { size }));
  return others.reduce((best, one) => (one.length < best.length ? one : best), first!);
}

function countFirst({ order, set, place }: PartLabel): string {
  const count = place === undefined ? '' : `${place.number}\u00A0of\u00A0${place.of}, `;
  return `${count}set\u00A0${set}, ${order}`;
}

/** The options that shape a part: in words if these fit on a line, and otherwise by their names. */
function shapeWords(shape: NonNullable<PartLabel['shape']>, width: number): string {
  const words = wordShape(shape);
  return fits(words, width, { size: smallest, bold: true })
    ? words
    : shape.map(([, short]) => short).join('; ');
}

/**
 * Essentials that leave room for steps in a height, mm: for the first, and, if the material alone can make it, for
 * all. What matters least is cut off first.
 */
function reduced(
  whole: Essentials,
  width: number,
  height: number,
  { first, all }: { first: number; all: number },
): Essentials {
  const kept: { -readonly [K in keyof Essentials]: Essentials[K] } = { ...whole };
  const over = (free: number): boolean => heightOf(blocksOf(kept)) + free > height + 1e-6;
  const shorten = (of: 'name' | 'shape' | 'order' | 'cloth', least: number, free: number): void => {
    while (over(free) && kept[of].lines.length > least) {
      kept[of] = shortened(kept[of], width);
    }
  };
  // The colour stands first: it stays.
  shorten('cloth', 1, all);
  shorten('name', 2, first);
  shorten('shape', 1, first);
  shorten('cloth', 1, 0);
  shorten('name', 1, 0);
  shorten('shape', 1, 0);
  shorten('cloth', 0, 0);
  shorten('shape', 0, 0);
  if (over(0)) kept.order = whole.countFirst;
  shorten('order', 1, 0);
  return kept;
}

/** A block with one line less, the last of them marked as cut off. */
function shortened({ lines, type }: Block, width: number): Block {
  const kept = lines.slice(0, -1);
  const last = kept.at(-1);
  if (last === undefined) return { lines: kept, type };
  // A line that ended early takes what has room of the one that goes: `RECUT` alone would name no part.
  const both = `${last}${last.endsWith('-') ? '' : ' '}${lines.at(-1)!}`;
  return {
    lines: [...kept.slice(0, -1), cutToWidth(both, width, type).replace(/[,;:]…$/, '…')],
    type,
  };
}

/**
 * What a label has where all steps have room besides: finish, people and title above them, and its label at the foot.
 * `space`: what the foot takes, mm.
 */
function optional(
  label: PartLabel,
  { rest }: Sizes,
  width: number,
  isSmall: boolean,
  left: number,
): { above: Block[]; foot: string[]; space: number } {
  const type = { size: rest };
  const steps = wrappedSteps(labelSteps(label.steps), smallest, width).length;
  let free = left - apart.steps - steps * lineHeight(smallest);
  const foot = apart.foot + lineHeight(smallest);
  const hasFoot = free >= foot;
  if (hasFoot) free -= foot;
  const lines = [
    ...(label.words?.lines ?? []).map((text): Block => block(text, type, width)),
    ...(isSmall
      ? []
      : [{ lines: [cutToWidth(label.title, width, type)], type: { ...type, colour: softInk } }]),
  ];
  const above: Block[] = [];
  for (const one of lines) {
    if (heightOf([one]) > free) continue;
    above.push(one);
    free -= heightOf([one]);
  }
  return {
    above,
    foot: hasFoot ? [cutToWidth(label.label, width, { size: smallest })] : [],
    space: hasFoot ? foot : 0,
  };
}

function sideWords({ side }: PartLabel): string {
  return side === null ? 'CENTRE' : side === 'left' ? 'LEFT' : 'RIGHT';
}

function fits(text: string, width: number, { size, bold }: Type): boolean {
  return widthOfText(text, size, bold) <= width;
}

function heightOf(blocks: readonly Block[]): number {
  return blocks.reduce((sum, { lines, type }) => sum + lines.length * lineHeight(type.size), 0);
}

/** Blocks line by line, one below the other from the top. */
function placed(blocks: readonly Block[]): LabelLine[] {
  let top = 0;
  return blocks.flatMap(({ lines, type }) =>
    lines.map((text) => {
      const line = { text, type, top };
      top += lineHeight(type.size);
      return line;
    }),
  );
}
