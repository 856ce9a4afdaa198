import type { Block, Entity } from '../../drawing/drawing.ts';
import { textEntity } from '../../drawing/entity-of.ts';
import type { ClosedLine } from '../outlines/contours.ts';
import type { SeenPiece } from './describe.ts';
import type { LayerMap, Role } from '../layers.ts';
import { meaningOf } from '../layers.ts';
import { numberedPath } from '../outlines/numbered.ts';
import type { Side } from '../words.ts';
import { blockNames } from '../write-set.ts';

/** A value to be used until the pattern maker has looked at it. */
interface Guess {
  readonly value: string;
  /** The reason for the guess. null: the drawing says so, and it is no guess. */
  readonly why: string | null;
}

/** A piece of a set that is begun from a drawing. */
export interface FirstPiece {
  readonly name: string;
  readonly block: string;
  readonly side: Guess;
  readonly drawnSide: Guess | null;
  readonly quantity: number;
  readonly material: Guess;
  readonly entities: readonly Entity[];
}

/** What a first set file is written from. */
export interface FirstSet {
  readonly title: string;
  readonly hand: Guess;
  readonly drawing: string;
  readonly pieces: readonly FirstPiece[];
}

/** The materials that a shop has: the names of their files. */
export type MaterialNames = readonly string[];

/** Turns the pieces found in a drawing into pieces of a set, each with a block of its own. */
export function firstPieces(
  seen: readonly SeenPiece[],
  map: LayerMap,
  materials: MaterialNames,
): FirstPiece[] {
  const names = distinctNames(seen.map(({ report }) => report.name));
  const blocks = blockNames(names);
  return seen.map(({ report, outline }, i) => {
    const name = names[i]!;
    return {
      name,
      block: blocks.get(name)!,
      ...sideOf(report.name, report.labels.quantity),
      material: materialOf(report.labels.material, materials),
      entities: [
        asRole(outline.contour.entity, 'OUTLINE', outline.contour),
        ...outline.inner.map((inner) =>
          asRole(inner.entity, inner.role === 'unknown' ? 'CUTOUT' : inner.role, inner),
        ),
        ...outline.others.map((entity) => onRoleLayer(entity, outline.contour, map, report.half)),
      ],
    };
  });
}

/**
 * A contour, put on the layer of its role. If its own layer already has that role, it keeps it, with any
 * suffix.
 */
function asRole(entity: Entity, role: Role, { path }: ClosedLine): Entity {
  const layer = entity.layer.toUpperCase();
  const own = meaningOf(layer, new Map());
  const isNamed = own?.role === role && !/^\d/.test(layer);
  return { kind: 'path', layer: isNamed ? layer : role, line: entity.line, path };
}

/**
 * Anything but a contour, put on the layer of its meaning, or on NOTE if it has none. The mirror line of
 * a piece that has been made whole goes to NOTE too, because it is no longer needed.
 */
function onRoleLayer(entity: Entity, { path }: ClosedLine, map: LayerMap, half: boolean): Entity {
  const meaning = meaningOf(entity.layer, map);
  const isDone = half && meaning?.role === 'AXIS';
  const role = meaning === null || isDone || entity.kind === 'text' ? 'NOTE' : meaning.role;
  const layer = meaning?.follows && role !== 'NOTE' ? `${role}-${meaning.follows}` : role;
  const { line } = entity;
  switch (entity.kind) {
    case 'path':
      return { kind: 'path', layer, line, path: entity.path };
    case 'text':
      return {
        ...textEntity(keptLayer(entity.layer), entity.text, entity.at, entity.height),
        line,
      };
    case 'point': {
      const drawn = numberedPath(entity, role, path);
      return drawn === undefined
        ? { kind: 'point', layer, line, at: entity.at }
        : { kind: 'path', layer, line, path: drawn };
    }
  }
}

/**
 * The layer of a text: NOTE, except that a text on the layer of an edge's line stays there, because it
 * names that edge.
 */
function keptLayer(layer: string): string {
  const role = meaningOf(layer, new Map())?.role;
  const isEdge = role !== undefined && ['BOUND', 'SEAM', 'TUCK', 'TURNED', 'RAW'].includes(role);
  return isEdge ? layer.toUpperCase() : 'NOTE';
}

/** Turns names into names that a set file allows: small letters, digits and hyphens, each only once. */
function distinctNames(names: readonly string[]): string[] {
  const taken = new Set<string>();
  return names.map((name) => {
    const base = slug(name) || 'piece';
    let own = base;
    for (let n = 2; taken.has(own); n++) own = `${base}-${n}`;
    taken.add(own);
    return own;
  });
}

function slug(text: string): string {
  const plain = text
    .normalize('NFKD')
    .replaceAll('ß', 'ss')
    .replaceAll(/\p{Mark}/gu, '');
  return plain
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, '-')
    .replaceAll(/^-+|-+$/g, '');
}

function sideOf(
  name: string,
  quantity: { readonly right: number; readonly left: number } | undefined,
): Pick<FirstPiece, 'side' | 'drawnSide' | 'quantity'> {
  if (quantity !== undefined && quantity.right > 0 && quantity.left > 0) {
    const why = `Quantity: ${quantity.right},${quantity.left} says right and left`;
    return {
      side: { value: 'pair', why },
      drawnSide: { value: 'right', why: 'the right one is usually drawn' },
      quantity: Math.min(quantity.right, quantity.left),
    };
  }
  const count = Math.max(1, (quantity?.right ?? 0) + (quantity?.left ?? 0));
  const side = sideInName(name);
  if (side !== undefined) {
    const why = `the name ends in ${side === 'left' ? 'L' : 'R'}`;
    return { side: { value: side, why }, drawnSide: null, quantity: count };
  }
  return {
    side: { value: 'centre', why: 'nothing says which side it is for' },
    drawnSide: null,
    quantity: count,
  };
}

function sideInName(name: string): Side | undefined {
  const last = /(?:^|[^a-z])(l|lh|left|r|rh|right)$/i.exec(name.trim())?.[1]?.toLowerCase();
  if (last === undefined) return undefined;
  return last.startsWith('l') ? 'left' : 'right';
}

function materialOf(label: string | undefined, materials: MaterialNames): Guess {
  const named = label === undefined ? undefined : slug(label);
  if (named !== undefined && materials.includes(named)) return { value: named, why: null };
  const value = materials.find((one) => one.startsWith('carpet')) ?? materials[0] ?? 'carpet';
  const why =
    label === undefined
      ? 'the drawing names none'
      : `the drawing says ${label}, and shared/materials has no such file`;
  return { value, why };
}

/** The blocks of the drawing that belongs to the set. */
export function blocksOf(pieces: readonly FirstPiece[]): Block[] {
  return pieces.map(({ block, entities }) => ({ name: block, entities }));
}

/** The text of the set file. Each guess is marked as one. */
export function firstSetFile({ title, hand, drawing, pieces }: FirstSet): string {
  return [
    '# A first set file, made from a drawing. What is marked "guess" the drawing does not say:',
    '# look at each, correct it, and take the mark away. Then: pileway check',
    `title: ${JSON.stringify(title)}`,
    `drawn: ${guessed(hand)}`,
    'units: mm',
    `drawing: ${drawing}`,
    `pile: ${guessed({ value: 'rearward', why: 'where the pile leans in the vehicle' })}`,
    '',
    'pieces:',
    ...pieces.flatMap(pieceLines),
    '',
  ].join('\n');
}

function pieceLines({ name, block, side, drawnSide, quantity, material }: FirstPiece): string[] {
  return [
    `  ${/^\d+$/.test(name) ? `"${name}"` : name}:`,
    ...(block === name.toUpperCase() ? [] : [`    block: ${block}`]),
    `    side: ${guessed(side)}`,
    ...(drawnSide === null ? [] : [`    drawnSide: ${guessed(drawnSide)}`]),
    ...(quantity === 1 ? [] : [`    quantity: ${quantity}`]),
    `    material: ${guessed(material)}`,
  ];
}

function guessed({ value, why }: Guess): string {
  return why === null ? value : `${value} # guess: ${why.replaceAll(/\s+/g, ' ')}`;
}
