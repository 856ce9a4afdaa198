import type { Finding } from '../base/findings.ts';
import { distinctFindings, hasErrors, Refusal } from '../base/findings.ts';
import { deriveParts } from '../handing/derive.ts';
import type { Order } from '../handing/order.ts';
import type { Part } from '../handing/part.ts';
import { neverProduced } from '../handing/rules/never-produced.ts';
import type { Piece } from '../pattern/piece.ts';
import type { Materials } from '../pattern/shop/material.ts';
import { readKnownMaterials } from '../pattern/shop/material.ts';
import type { PatternSet } from '../pattern/set.ts';
import { readSet } from '../pattern/set.ts';
import { hands } from '../pattern/words.ts';
import { missingFindings, withoutMissing } from './told-together.ts';

/**
 * All findings on a set: those on its drawings and its set file, and those that come up when its parts
 * are derived for each hand and each choice of heel pads. What is only not said yet does not keep the
 * rest from being looked at, so that all can be mended at once. Throws a Refusal if the set cannot be
 * read at all.
 */
export function checkSet(
  folder: string,
  sharedFolder: string,
): { patterns: PatternSet; findings: Finding[] } {
  const patterns = readSet(folder, sharedFolder);
  const { materials, findings: unread } = readKnownMaterials(patterns.materials, sharedFolder);
  const sound = derivable(patterns, materials);
  const derived = derivedForAll(sound, materials);
  const made = withoutMissing(derived.findings, patterns, materials);
  const found = [
    ...patterns.findings,
    ...unread,
    ...missingFindings(patterns, materials),
    ...made,
    ...behindEdges(sound, derived.findings, materials),
  ];
  const never = hasErrors(found) ? [] : neverProduced(patterns, derived.parts);
  const all = withoutFollowers([...found, ...never], patterns);
  return { patterns, findings: distinctFindings(all) };
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
): { parts: readonly Part[]; findings: readonly Finding[] } {
  const derived = ordersOfAll(patterns).map((order) =>
    derivedOrRefused(patterns, order, materials),
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
    [entry.material, entry.pad, entry.board?.material, entry.underlay?.material].every(
      (name) => name === undefined || materials.has(name),
    );
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
): { parts: readonly Part[]; findings: readonly Finding[] } {
  try {
    return deriveParts(patterns, order, materials);
  } catch (error) {
    if (!(error instanceof Refusal)) throw error;
    const named = new Set(error.findings.map(({ where }) => where.piece));
    const pieces = patterns.pieces.filter(({ name }) => !named.has(name));
    if (pieces.length === patterns.pieces.length) return { parts: [], findings: error.findings };
    const others = derivedOrRefused({ ...patterns, pieces }, order, materials);
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
