import type { Box } from '../../geometry/paths/box.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { boxOfPath } from '../../geometry/paths/path.ts';
import { headingOf } from '../../geometry/paths/angle.ts';
import { cross, minus } from '../../geometry/paths/point.ts';
import type { DrawnLine } from '../feature.ts';
import type { Labels } from '../labels.ts';
import { forwardDeg } from '../pile.ts';
import type { PieceEntry } from '../set-file.ts';
import type { Side } from '../words.ts';
import { otherSide } from '../words.ts';
import { namedSide, saysPair } from './side-words.ts';

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
}

/** A line of the drawing and its layer. */
export interface NamedLine extends DrawnLine {
  readonly layer: string;
}

/** What tells where a piece belongs. */
interface SideEvidence {
  readonly name: string;
  readonly quantity: Labels['quantity'];
  /** Texts on the piece that are no labels. */
  readonly texts: readonly string[];
  /** The outline, in the frame of the drawing. */
  readonly outline: Path;
  /** A line that is, or may be, the vehicle's centreline; null: none is drawn. */
  readonly axis: NamedLine | null;
  /** The box round all pieces of the drawing, mm. */
  readonly all: Box;
}

/** Guesses the side of a piece. `others`: the names of all pieces of the drawing. */
export function firstSide(evidence: SideEvidence, others: readonly string[]): FirstSide {
  const { quantity, texts, name } = evidence;
  const count = Math.max(1, (quantity?.right ?? 0) + (quantity?.left ?? 0));
  const one = (value: PieceEntry['side'], why: string): FirstSide => ({
    side: { value, why },
    drawnSide: null,
    quantity: count,
  });
  const named = namedSide(name);
  const drawnSide: Guess<Side> =
    named.says === 'left' || named.says === 'right'
      ? { value: named.says, why: null }
      : { value: 'right', why: 'the right one is usually drawn' };
  const pair = (why: string, quantityOfEach = 1): FirstSide => ({
    side: { value: 'pair', why },
    drawnSide,
    quantity: quantityOfEach,
  });
  if (quantity !== undefined && quantity.right > 0 && quantity.left > 0) {
    return pair(
      `Quantity: ${quantity.right},${quantity.left} says right and left`,
      Math.min(quantity.right, quantity.left),
    );
  }
  if (named.says === 'pair') return pair(`its name says ${named.words}`);
  const wish = texts.find(saysPair);
  if (wish !== undefined) return pair(`a text on it says "${wish}"`);
  if (named.says === 'left' || named.says === 'right') {
    const twin = others.find((other) => isTwin(name, other));
    if (twin === undefined) {
      return pair(
        `its name says ${named.words}, and nothing of that name says ${otherSide(named.says)}: probably both sides are wanted`,
      );
    }
    return one(
      named.says,
      `its name says ${named.words}, and "${twin}" is its twin: if one is the mirror image of the other, make it one piece with "side: pair" and "other:"`,
    );
  }
  if (named.says !== null) return one(named.says, `its name says ${named.words}`);
  const told = texts.find((text) => ['left', 'right'].includes(namedSide(text).says ?? ''));
  if (told !== undefined) return pair(`a text on it says "${told}", and nothing says which side`);
  return one(...byPlace(evidence));
}

/** Whether two names are the same but for saying left and right. */
function isTwin(name: string, other: string): boolean {
  const [one, two] = [namedSide(name), namedSide(other)];
  const isOpposite =
    (one.says === 'left' && two.says === 'right') || (one.says === 'right' && two.says === 'left');
  return isOpposite && one.bare.toLowerCase() === two.bare.toLowerCase();
}

/** A piece may lie over a centreline by so many mm and still count as lying beside it. */
const beside = 1;

/** Guesses the side by where the piece lies: beside a centreline, or on it. */
function byPlace(evidence: SideEvidence): [PieceEntry['side'], string] {
  const { name, texts, outline, axis, all } = evidence;
  const halved = [name, ...texts].find((text) => /\bhalf\b|\bon (the )?fold\b/i.test(text));
  const half =
    'if only one half of it is drawn, write "side: centre" and "half: true" and draw its mirror line on AXIS';
  if (axis !== null) {
    const { side, off } = placeBeside(outline, axis);
    if (side === null) {
      return ['centre', `it lies across the line on layer ${axis.layer}, and nothing else says it`];
    }
    const isHalf = off <= beside || halved !== undefined;
    const why = `it lies wholly to the ${side} of the line on layer ${axis.layer}`;
    return [side, isHalf ? `${why}; ${half}` : why];
  }
  if (halved !== undefined) return ['centre', `"${halved}" says half: ${half}`];
  const why = 'nothing says which side it is for';
  const { minX, maxX } = boxOfPath(outline);
  const isSpread = all.minX < -beside && all.maxX > beside;
  if (!isSpread || (minX < -beside && maxX > beside)) return ['centre', why];
  const side = minX < -beside ? 'left' : 'right';
  return [
    'centre',
    `${why}, and it lies wholly to the ${side} of x = 0: if that is the vehicle’s centreline, it is no centre piece`,
  ];
}

/**
 * The side of a line, looking forward along it, on which a path lies wholly; null: it lies on both. And
 * how near it comes, mm.
 */
function placeBeside({ vertices }: Path, axis: DrawnLine): { side: Side | null; off: number } {
  const forward = headingOf(forwardDeg(axis));
  const offs = vertices.map((vertex) => cross(forward, minus(vertex, axis.from)));
  const [least, most] = [Math.min(...offs), Math.max(...offs)];
  if (least >= -beside) return { side: 'left', off: Math.max(0, least) };
  if (most <= beside) return { side: 'right', off: Math.max(0, -most) };
  return { side: null, off: 0 };
}
