import { decimal } from '../../base/numbers.ts';
import type { Box } from '../../geometry/paths/box.ts';
import { centreOf, heightOf, widthOf } from '../../geometry/paths/box.ts';
import { boxOfPath } from '../../geometry/paths/path.ts';
import { besideLine, besideTolerance } from '../beside-line.ts';
import type { DrawnLine } from '../feature.ts';
import type { Labels } from '../labels.ts';
import type { PieceEntry } from '../set-file.ts';
import type { CutOutline, CutThing } from '../twins.ts';
import { heldAgainstMirror } from '../twins.ts';
import type { Side } from '../words.ts';
import { otherSide } from '../words.ts';
import { bareName, namedSide, askedNumber, saysHalf, saysPair } from './side-words.ts';

/** A value to be used until the pattern maker has looked at it. */
export interface Guess<T extends string = string> {
  readonly value: T;
  /** The reason for the guess. null: the drawing says so, and it is no guess. */
  readonly why: string | null;
}

/** Where a piece belongs and how often, as far as the drawing tells. */
export interface FirstSide {
  readonly side: Guess<PieceEntry['side']>;
  /** null: it is no pair. */
  readonly drawnSide: Guess<Side> | null;
  readonly quantity: number;
  /** The reason for a quantity that is a guess. null: it is none. */
  readonly quantityWhy: string | null;
}

/** A line of the drawing and its layer. */
export interface NamedLine extends DrawnLine {
  readonly layer: string;
}

/** What tells where a piece belongs; its outline and what is cut in it, in the frame of the drawing. */
interface SideEvidence extends CutOutline<CutThing> {
  readonly name: string;
  readonly quantity: Labels['quantity'];
  /** Texts on the piece that are no labels. */
  readonly texts: readonly string[];
  /** A line that is, or may be, the vehicle's centreline; null: none is drawn. */
  readonly axis: NamedLine | null;
  /** The box round all pieces of the drawing, mm. */
  readonly all: Box;
}

/** Guesses the side of a piece. `others`: the other pieces of the drawing. */
export function firstSide(evidence: SideEvidence, others: readonly SideEvidence[]): FirstSide {
  const { quantity, texts, name } = evidence;
  const guess = withOneSideAsked(sideOf(evidence, others), quantity);
  const isPair = guess.side.value === 'pair';
  if (quantity !== undefined) {
    const { right, left } = quantity;
    if (isPair && left === 0 && right > 1) return { ...guess, ...halfOf(right) };
    const count = isPair ? Math.min(right, left) : right + left;
    return { ...guess, quantity: Math.max(1, count), quantityWhy: null };
  }
  const said = [
    { text: name, whose: 'its name' },
    ...texts.map((text) => ({ text, whose: 'a text on it' })),
  ].find(({ text }) => askedNumber(text) !== null);
  if (said === undefined) return { ...guess, quantity: 1, quantityWhy: null };
  const { count, isEach } = askedNumber(said.text)!;
  // Two off, handed, are one for each side.
  const own = isPair && !isEach ? Math.ceil(count / 2) : count;
  return {
    ...guess,
    quantity: Math.max(1, own),
    quantityWhy: own > 1 ? `${said.whose} says "${said.text}"` : null,
  };
}

/**
 * The guess where a text says how many for the right and for the left, and none for one of them: that may be
 * meant, or `1,0` is a number like any other. Either way it is asked.
 */
function withOneSideAsked(guess: SideGuess, quantity: Labels['quantity']): SideGuess {
  if (quantity === undefined || !quantity.saysSides) return guess;
  const { right, left } = quantity;
  if ((right === 0) === (left === 0)) return guess;
  const only: Side = left === 0 ? 'right' : 'left';
  const none = otherSide(only);
  const said = `"Quantity: ${right},${left}" says ${right + left} for the ${only} and none for the ${none}, if it is no number with a comma`;
  const why = guess.side.why === null ? said : `${said}; ${guess.side.why}`;
  return guess.side.value === 'pair'
    ? { side: { value: only, why }, drawnSide: null }
    : { ...guess, side: { ...guess.side, why } };
}

/** What a single number says of a pair: half of it for each side, until somebody has said so. */
function halfOf(count: number): Pick<FirstSide, 'quantity' | 'quantityWhy'> {
  const each = Math.ceil(count / 2);
  return {
    quantity: each,
    quantityWhy: `"Quantity: ${count}" does not say how many are for each side: ${each} for each is ${2 * each} in all`,
  };
}

type SideGuess = Pick<FirstSide, 'side' | 'drawnSide'>;

function sideOf(evidence: SideEvidence, others: readonly SideEvidence[]): SideGuess {
  const { quantity, texts, name } = evidence;
  const one = (value: PieceEntry['side'], why: string): SideGuess => ({
    side: { value, why },
    drawnSide: null,
  });
  const named = namedSide(name);
  const drawnSide: Guess<Side> =
    named.says === 'left' || named.says === 'right'
      ? { value: named.says, why: null }
      : { value: 'right', why: 'the right one is usually drawn' };
  const pair = (why: string): SideGuess => ({ side: { value: 'pair', why }, drawnSide });
  if (quantity !== undefined && quantity.right > 0 && quantity.left > 0) {
    return pair(`Quantity: ${quantity.right},${quantity.left} says right and left`);
  }
  if (named.says === 'pair') return pair(`its name says ${named.words}`);
  if (saysPair(name)) return pair(`its name says "${name}"`);
  const wish = texts.find(saysPair);
  if (wish !== undefined) return pair(`a text on it says "${wish}"`);
  if (named.says === 'left' || named.says === 'right') {
    const twin = others.find((other) => isTwin(name, other.name));
    if (twin === undefined) {
      return pair(
        `its name says ${named.words}, and nothing of that name says ${otherSide(named.says)}: probably both sides are wanted`,
      );
    }
    return one(named.says, `its name says ${named.words}, and ${twinWords(evidence, twin)}`);
  }
  if (named.says !== null) return one(named.says, `its name says ${named.words}`);
  const told = texts.find((text) => ['left', 'right'].includes(namedSide(text).says ?? ''));
  if (told !== undefined) return pair(`a text on it says "${told}", and nothing says which side`);
  return one(...byPlace(evidence));
}

/** What a piece and its twin on the other side have in common, and what to make of them. */
function twinWords(one: SideEvidence, twin: SideEvidence): string {
  const { isImage, lone } = heldAgainstMirror(one, twin);
  const [ours, theirs] = lone;
  const name = `"${twin.name}"`;
  const person = 'write "side: driver" or "side: passenger" here and the other there';
  const pair = 'make the two one piece with "side: pair" and "other:"';
  if (ours.length > 0) {
    const asPair = isImage ? `, or ${pair} and put it on CUTOUT-DRIVER or CUTOUT-PASSENGER` : '';
    return `it has ${cutWords(ours)} that its twin ${name} has not: if that goes with the driver or the passenger, ${person}${asPair}`;
  }
  if (theirs.length > 0) return `something is cut in its twin ${name} alone: answer both together`;
  return isImage
    ? `its outline is the mirror image of its twin ${name}: ${pair}`
    : `its twin ${name} is no mirror image of it: if the two go with driver and passenger, ${person}`;
}

function cutWords(things: SideEvidence['cuts']): string {
  const [first, ...rest] = things;
  const box = boxOfPath(first!.path);
  const { x, y } = centreOf(box);
  const size = `${decimal(widthOf(box), 0)} by ${decimal(heightOf(box), 0)} mm`;
  const more = rest.length === 0 ? '' : ` and ${rest.length} more`;
  return `a closed line of ${size} at ${decimal(x, 1)}, ${decimal(y, 1)}${more}`;
}

/** Whether two names are the same but for saying left and right. */
function isTwin(name: string, other: string): boolean {
  const [one, two] = [namedSide(name), namedSide(other)];
  const isOpposite =
    (one.says === 'left' && two.says === 'right') || (one.says === 'right' && two.says === 'left');
  return isOpposite && bareName(name).toLowerCase() === bareName(other).toLowerCase();
}

/** Guesses the side by where the piece lies: beside a centreline, or on it. */
function byPlace(evidence: SideEvidence): [PieceEntry['side'], string] {
  const { name, texts, outline, axis, all } = evidence;
  const halved = [name, ...texts].find(saysHalf);
  const half =
    'if only one half of it is drawn, write "side: centre" and "half: true" and draw its mirror line on AXIS';
  if (axis !== null) {
    const { side, off, along } = besideLine(outline, axis);
    if (side === null) {
      return ['centre', `it lies across the line on layer ${axis.layer}, and nothing else says it`];
    }
    const why = `it lies wholly to the ${side} of the line on layer ${axis.layer}`;
    if (along > 0) {
      const said = halved === undefined ? '' : `, and "${halved}" says half`;
      return [
        side,
        `${why}, with a straight edge along it${said}: if only one half of it is drawn, write "side: centre" and "half: true", and the line on layer ${axis.layer} is its AXIS`,
      ];
    }
    return [side, off <= besideTolerance || halved !== undefined ? `${why}; ${half}` : why];
  }
  if (halved !== undefined) return ['centre', `"${halved}" says half: ${half}`];
  const why = 'nothing says which side it is for';
  const { minX, maxX } = boxOfPath(outline);
  const isSpread = all.minX < -besideTolerance && all.maxX > besideTolerance;
  if (!isSpread || (minX < -besideTolerance && maxX > besideTolerance)) return ['centre', why];
  const side = minX < -besideTolerance ? 'left' : 'right';
  return [
    'centre',
    `${why}, and it lies wholly to the ${side} of x = 0: if that is the vehicle’s centreline, it is no centre piece`,
  ];
}
