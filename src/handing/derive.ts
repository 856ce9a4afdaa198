import type { Finding, Place } from '../base/findings.ts';
import { claimEdges, tracesOf } from '../pattern/edges.ts';
import type { Materials } from '../pattern/shop/material.ts';
import { materialOf } from '../pattern/shop/material.ts';
import type { Piece } from '../pattern/piece.ts';
import type { PieceEntry } from '../pattern/set-file.ts';
import type { PatternSet } from '../pattern/set.ts';
import type { PartBase } from './base.ts';
import { carpetPart } from './carpet.ts';
import { colourOf } from './colour.ts';
import { boardParts, padParts } from './companions.ts';
import { placePiece } from './features.ts';
import { pileInVehicle } from './frame.ts';
import type { Order } from './order.ts';
import type { Part, PartKind } from './part.ts';
import type { Side } from '../pattern/words.ts';
import { checkParts } from './rules/rules.ts';
import { isWanted } from './selection.ts';
import type { PiecePosition } from './sides.ts';
import { positionsOf } from './sides.ts';

/** What an order makes of a set. */
export interface DerivedParts {
  /**
   * The parts of all sets of the order, set by set and in the order of the set file. All sets share their
   * geometry and differ only in their labels.
   */
  readonly parts: readonly Part[];
  /** The parts of its first set, with those that the order does not want. */
  readonly whole: readonly Part[];
  readonly findings: readonly Finding[];
}

/**
 * Derives the parts of an order. They are made and judged as parts of the whole set, and what the order
 * does not want is left out last. Throws a Refusal if an allowance or an inset does not fit. `make`: what
 * does the work of partsOfPiece.
 */
export function deriveParts(
  patterns: PatternSet,
  order: Order,
  materials: Materials,
  make = partsOfPiece,
): DerivedParts {
  const made = patterns.pieces.map((piece) => make(piece, patterns, order, materials));
  const whole = made.flatMap((one) => one.parts);
  const first = whole.filter((part) => isWanted(part, order, patterns.content.groups));
  const findings = [
    ...made.flatMap((one) => one.findings),
    ...checkParts(whole, patterns, materials),
  ];
  const sets = Array.from({ length: order.quantity }, (_, i) => i + 1);
  return {
    parts: sets.flatMap((set) => first.map((part) => inSet(part, set))),
    whole,
    findings: findings.filter((finding) => concerns(finding, whole, first)),
  };
}

/** What an order says that changes no part of it. */
const ofNoPart: ReadonlySet<string> = new Set<keyof Order>([
  'order',
  'customer',
  'due',
  'benchNote',
  'customerNote',
]);

/**
 * What two orders of one set must have in common so that their parts differ only in their labels: all but whose they
 * are and what is noted on them.
 */
export function choicesKey(order: Order): string {
  return JSON.stringify(Object.entries(order).filter(([key]) => !ofNoPart.has(key)));
}

/** The parts of an order, made for another one that chooses the same: they share their geometry. */
export function derivedFor(
  { order }: Order,
  { parts, whole, findings }: DerivedParts,
): DerivedParts {
  const labelled = (part: Part): Part => inSet({ ...part, order }, part.set);
  return { parts: parts.map(labelled), whole: whole.map(labelled), findings };
}

/** Whether a finding is an error, or of a part that is wanted, or of no single part. */
function concerns(
  { severity, where }: Finding,
  whole: readonly Part[],
  wanted: readonly Part[],
): boolean {
  const isThere = (parts: readonly Part[]): boolean =>
    parts.some(({ name }) => name === where.part);
  return severity === 'error' || isThere(wanted) || !isThere(whole);
}

function inSet(part: Part, set: number): Part {
  return { ...part, ...nameAndLabel(part.name, { set, order: part.order }), set };
}

/** The parts of one piece in all its positions. Throws as deriveParts does. */
export function partsOfPiece(
  piece: Piece,
  patterns: PatternSet,
  order: Order,
  materials: Materials,
): { parts: readonly Part[]; findings: readonly Finding[] } {
  const made = positionsOf(piece.entry, patterns.content.drawn, order.hand).map((position) =>
    partsAt(piece, position, patterns, order, materials),
  );
  return {
    parts: made.flatMap((one) => one.parts),
    findings: made.flatMap((one) => one.findings),
  };
}

function partsAt(
  piece: Piece,
  position: PiecePosition,
  patterns: PatternSet,
  order: Order,
  materials: Materials,
): { parts: Part[]; findings: Finding[] } {
  const { net, features } = placePiece(piece, position, patterns.content.drawn, order);
  const where: Place = {
    ...piece.where,
    part: partName(piece.name, 'piece', position.side),
    hand: order.hand,
  };
  const { stretches, findings } = claimEdges(
    net,
    tracesOf(features),
    piece.entry.edge ?? null,
    where,
  );
  if (findings.length > 0) return { parts: [], findings };
  const identity = {
    piece: piece.name,
    side: position.side,
    hand: order.hand,
    order: order.order,
    // All other sets of the order are copied from the first.
    set: 1,
  };
  const make = (kind: PartKind, side: Side | null, material: string): PartBase => {
    const known = materialOf(materials, material);
    const colour = colourOf({ piece: piece.name, kind }, known, patterns, order);
    return {
      ...identity,
      ...nameAndLabel(partName(piece.name, kind, side), identity),
      kind,
      side,
      material,
      ...(colour === undefined ? {} : { colour }),
      pileDeg: known.turns === 'any' ? null : pileInVehicle(piece),
      ...(kind === 'piece' ? lieOf(piece.entry) : {}),
    };
  };
  const carpet = carpetPart(
    piece,
    net,
    features,
    stretches,
    materialOf(materials, piece.entry.material),
    make,
    position.side,
    where,
  );
  const parts = [
    carpet,
    ...padParts(piece, features, position.side, make),
    ...boardParts(piece.entry, order, carpet, materials, make, where),
  ];
  return { parts: parts.flatMap((part) => copiesOf(part, piece.entry.quantity)), findings };
}

/** What the set file says about how a piece may lie on the roll. */
function lieOf({ turns, tilt }: PieceEntry): Pick<Part, 'turns' | 'tilt'> {
  return { ...(turns === undefined ? {} : { turns }), ...(tilt === undefined ? {} : { tilt }) };
}

function partName(piece: string, kind: PartKind, side: Side | null): string {
  return [piece, ...(kind === 'piece' ? [] : [kind]), ...(side === null ? [] : [side])].join('-');
}

function nameAndLabel(
  name: string,
  { set, order }: Pick<Part, 'set' | 'order'>,
): { label: string; name: string } {
  return { label: `${name}.${set}.${order}`, name };
}

/**
 * The part as often as the quantity of its piece says. If there are several, each name ends in a number.
 */
function copiesOf(part: Part, quantity: number): Part[] {
  if (quantity === 1) return [part];
  return Array.from({ length: quantity }, (_, i) => ({
    ...part,
    ...nameAndLabel(`${part.name}-${i + 1}`, part),
  }));
}
