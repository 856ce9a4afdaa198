import type { Finding } from '../base/findings.ts';
import { memoryByKey, rememberedFor } from '../base/remembered.ts';
import { distinctFindings, hasErrors, Refusal } from '../base/findings.ts';
import { deriveParts, partsOfPiece } from '../handing/derive.ts';
import type { Order } from '../handing/order.ts';
import type { Part } from '../handing/part.ts';
import { neverProduced } from '../handing/rules/never-produced.ts';
import { materialsNamed } from '../pattern/choice.ts';
import type { Piece } from '../pattern/piece.ts';
import type { Material, Materials } from '../pattern/shop/material.ts';
import { readKnownMaterials } from '../pattern/shop/material.ts';
import type { PatternSet, SetFiles } from '../pattern/set.ts';
import { readSetFiles, withAllPieces } from '../pattern/set.ts';
import { hands } from '../pattern/words.ts';
import { missingFindings, withoutMissing } from './told-together.ts';
import { toldByChoice, triesOf } from './tries.ts';

interface CheckedSet {
  readonly patterns: PatternSet;
  readonly findings: Finding[];
}

/**
 * All findings on a set: those on its drawings and its set file, and those that come up when its parts
 * are derived for each hand and each choice of heel pads, of options and of materials (see triesOf). What
 * is only not said yet does not keep the rest from being looked at, so that all can be mended at once.
 * `patterns` is the set as usual, with pieces that it only has with other options. Throws a Refusal if the
 * set cannot be read at all.
 */
export function checkSet(folder: string, sharedFolder: string): CheckedSet {
  return checkSetFiles(readSetFiles(folder, sharedFolder), sharedFolder);
}

/** All findings on a set whose files have been read. Throws a Refusal as checkSet does. */
export function checkSetFiles(files: SetFiles, sharedFolder: string): CheckedSet {
  const tries = triesOf(files, sharedFolder);
  const sets = tries.map(({ choice }) => files.chosen(choice));
  const patterns = withAllPieces(sets);
  const named = new Map(sets.toReversed().flatMap((set) => [...set.materials]));
  const { materials, findings: unread } = readKnownMaterials(named, sharedFolder);
  const make = madeOnce(materials);
  const derived = sets.map((set) => {
    const sound = derivable(set, materials);
    return { sound, ...derivedForAll(sound, materials, make) };
  });
  const missing = missingFindings(patterns, materials);
  const found = sets.map((set, i) => [
    ...set.findings,
    ...unread,
    ...missing,
    ...withoutMissing(derived[i]!.findings, patterns, materials),
    ...behindEdges(derived[i]!.sound, derived[i]!.findings, materials),
  ]);
  const told = toldByChoice(tries, found);
  const never = hasErrors(told)
    ? []
    : neverProduced(
        patterns,
        derived.flatMap(({ parts }) => parts),
      );
  return { patterns, findings: withoutFollowers([...told, ...distinctFindings(never)], patterns) };
}

function hasPad({ features }: Piece): boolean {
  return features.some(({ role }) => role === 'PAD');
}

/** Hands and heel pads make so many orders; as many parts of a piece are remembered, and some of before. */
const mostRemembered = 12;

const madeBefore = memoryByKey<Piece, ReturnType<typeof partsOfPiece>>(mostRemembered);

/**
 * Makes the parts of a piece once for orders that make no difference to it, and for sets that differ in other
 * pieces. The orders differ in hand and heel pads alone (see ordersOfAll).
 */
function madeOnce(materials: Materials): typeof partsOfPiece {
  const words = rememberedFor((material: Material) => JSON.stringify(material));
  return (piece, patterns, order, known) => {
    const named = Object.values(materialsNamed(piece.entry)).map((name) => known.get(name));
    const key = JSON.stringify([
      order.set,
      order.hand,
      hasPad(piece) ? order.heelPads : '',
      patterns.content.drawn,
      patterns.uses.get(piece.name),
      named.map((material) => (material === undefined ? '' : words(material))),
    ]);
    return madeBefore(piece, key, () => partsOfPiece(piece, patterns, order, materials));
  };
}

/** Rules on what the side of a piece makes of its name, its layers and its notes. */
const fromSide: ReadonlySet<string> = new Set([
  'no-axis',
  'one-sided',
  'axis-off-middle',
  'drawn-elsewhere',
  'name-side',
  'no-counterpart',
  'note-says-pair',
  'not-decided',
  'never-present',
  'suffix-elsewhere',
  'pad-elsewhere',
]);

/**
 * The findings without what only follows from a side that is a guess: with the right side it may not be
 * so, and then it is told.
 */
function withoutFollowers(findings: readonly Finding[], { content }: PatternSet): Finding[] {
  const isGuess = (piece: string): boolean => content.pieces[piece]?.open?.['side'] !== undefined;
  return findings.filter(({ rule, where: { piece } }) => {
    return !fromSide.has(rule) || piece === undefined || !isGuess(piece);
  });
}

/** The parts of a set and the findings on them, for each hand and each choice of heel pads. */
function derivedForAll(
  patterns: PatternSet,
  materials: Materials,
  make = partsOfPiece,
): { parts: readonly Part[]; findings: readonly Finding[] } {
  const derived = ordersOfAll(patterns).map((order) =>
    derivedOrRefused(patterns, order, materials, make),
  );
  return {
    parts: derived.flatMap(({ parts }) => parts),
    findings: derived.flatMap(({ findings }) => findings),
  };
}

/** One order for each combination of hand and heel pads. */
function ordersOfAll({ name }: PatternSet): Order[] {
  return hands.flatMap((hand) =>
    (['driver', 'both', 'none'] as const).map((heelPads) => ({
      order: 'check',
      set: name,
      hand,
      quantity: 1,
      heelPads,
      boards: true,
      underlay: true,
    })),
  );
}

/**
 * Rules that ask for something in the set file. A piece with such an error alone is drawn well, and its
 * parts can be looked at.
 */
const asking: ReadonlySet<string> = new Set([
  'open-question',
  'open-names-nothing',
  'unknown-layer',
  'pad-material',
  'no-pad',
  'not-decided',
]);

/**
 * The set without pieces that have errors as drawn, whose parts would only show the same errors again in
 * other words, and without those of a material that could not be read.
 */
function derivable(patterns: PatternSet, materials: Materials): PatternSet {
  const errors = patterns.findings.filter(
    ({ severity, rule }) => severity === 'error' && !asking.has(rule),
  );
  const faulty = new Set(errors.map(({ where }) => where.piece));
  const isKnown = ({ entry }: Piece): boolean =>
    Object.values(materialsNamed(entry)).every((name) => materials.has(name));
  const pieces = patterns.pieces.filter((piece) => !faulty.has(piece.name) && isKnown(piece));
  return { ...patterns, pieces };
}

/**
 * The parts of an order and the findings on them. A piece of which no part can be made at all is told and
 * left out, and the others are looked at all the same.
 */
function derivedOrRefused(
  patterns: PatternSet,
  order: Order,
  materials: Materials,
  make: typeof partsOfPiece,
): { parts: readonly Part[]; findings: readonly Finding[] } {
  try {
    return deriveParts(patterns, order, materials, make);
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    const named = new Set(error.findings.map(({ where }) => where.piece));
    const pieces = patterns.pieces.filter(({ name }) => !named.has(name));
    if (pieces.length === patterns.pieces.length) return { parts: [], findings: error.findings };
    const others = derivedOrRefused({ ...patterns, pieces }, order, materials, make);
    return { parts: others.parts, findings: [...error.findings, ...others.findings] };
  }
}

/**
 * What is wrong with pieces of which only the edges are not all decided yet: without edges they have no
 * parts, so here all that is undecided is taken as cut and covered, which adds nothing anywhere. Seams
 * are left out: they depend on the answer.
 */
function behindEdges(
  patterns: PatternSet,
  derived: readonly Finding[],
  materials: Materials,
): Finding[] {
  const undecided = new Set(
    derived.filter(({ rule }) => rule === 'edge-not-claimed').map(({ where }) => where.piece),
  );
  if (undecided.size === 0) return [];
  const pieces = patterns.pieces
    .filter(({ name }) => undecided.has(name))
    .map((piece): Piece => ({
      ...piece,
      entry: { ...piece.entry, edge: 'raw', covered: piece.entry.covered ?? 'to be said' },
    }));
  const { findings } = derivedForAll({ ...patterns, pieces }, materials);
  return withoutMissing(findings, patterns, materials).filter(
    ({ rule, where }) => where.piece !== undefined && !rule.startsWith('seam-'),
  );
}
