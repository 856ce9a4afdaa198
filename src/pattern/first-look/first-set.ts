import { longestName } from '../../base/names.ts';
import type { Block, Entity, PathEntity, TextEntity } from '../../drawing/drawing.ts';
import { textEntity } from '../../drawing/entity-of.ts';
import { unionBox } from '../../geometry/paths/box.ts';
import { boxOfPath } from '../../geometry/paths/path.ts';
import type { Path } from '../../geometry/paths/path.ts';
import type { ClosedLine } from '../outlines/closed-line.ts';
import { tracedKinds } from '../edges.ts';
import { lineThrough } from '../dashes.ts';
import type { LayerMap, Role } from '../layers.ts';
import { layerName, meaningOf } from '../layers.ts';
import { isQuantity } from '../labels.ts';
import { numberedPath } from '../outlines/numbered.ts';
import { leftOutBlock } from '../set-file.ts';
import { blockNames } from '../write-set.ts';
import { doubtWords, outlineDoubts } from './outline-doubts.ts';
import type { SeenPiece, Sight } from './sight.ts';
import type { FirstSide, Guess, NamedLine } from './first-side.ts';
import { firstSide } from './first-side.ts';
import { pileTexts, quotedTexts } from './first-words.ts';
import type { OwnLayers } from './own-layers.ts';
import { bareName, pileIn } from './side-words.ts';
import { mayNameEdge, onlyNames } from './thing-names.ts';

/** A piece of a set that is begun from a drawing. */
export interface FirstPiece extends FirstSide {
  readonly name: string;
  readonly block: string;
  readonly material: Guess;
  /** Why it is taken for one half of a piece; null: it is not. */
  readonly half: string | null;
  /** Why it may be no piece at all; null: nothing speaks against it. */
  readonly doubt: string | null;
  /** Texts on it that no key holds; null: there are none. */
  readonly texts: string | null;
  readonly entities: readonly Entity[];
}

/** An option that layers of a drawing name, with its values if they name any. */
export interface FirstOption {
  readonly name: string;
  readonly values: readonly string[];
}

/** What a first set file is written from. */
export interface FirstSet {
  readonly title: Guess;
  readonly hand: Guess;
  /** Where the pile leans. */
  readonly pile: Guess;
  readonly drawing: string;
  readonly pieces: readonly FirstPiece[];
  /** Options that layers name. */
  readonly options: readonly FirstOption[];
  /** Names of layers in its drawing that are too long for it, each with the one that stands for it. */
  readonly shortened: ReadonlyMap<string, string>;
  /** What lies in no outline, in words; null: nothing does. */
  readonly leftOut: string | null;
  /** What numbered layers were taken for, though nobody said it, in words; null: none were. */
  readonly numbered: string | null;
  /** Layers of its drawing that are taken for OUTLINE, because others might be meant. */
  readonly outlineLayers: readonly string[];
  /** Why that is a guess; null: it makes no difference which of them is meant. */
  readonly doubt: string | null;
  /** Layers of its drawing, and what somebody has said that they mean. */
  readonly answers: LayerMap;
  /** The customer who drew it; null: nobody said. */
  readonly drawnBy: string | null;
}

/** The materials that a shop has: the names of their files. */
export type MaterialNames = readonly string[];

/**
 * Turns the pieces found in a drawing into pieces of a set, each with a block of its own. `split`: layers
 * of their own for single things (see splitLayers).
 */
export function firstPieces(
  { pieces, leftOut, hidden }: Sight,
  map: LayerMap,
  layers: OwnLayers,
  materials: MaterialNames,
  split: ReadonlyMap<Entity, string> = new Map(),
): FirstPiece[] {
  const called = pieces.map(({ report }) => report.name);
  const names = distinctNames(called.map(bareName));
  const blocks = blockNames(names);
  const texts = pieces.map(wishes);
  const isOnePile = new Set(pileTexts({ leftOut, pieces }).map(({ way }) => way)).size === 1;
  const all = pieces.map(({ outline }) => boxOfPath(outline.contour.path)).reduce(unionBox);
  const guessed = guessedOutlines(pieces);
  const common = centrelineAmong(
    [...new Set([...leftOut, ...pieces.flatMap(({ outline }) => outline.others)])],
    map,
  );
  const evidence = pieces.map(({ report, outline }, i) => ({
    name: report.name,
    quantity: report.labels.quantity,
    texts: texts[i]!,
    outline: outline.contour.path,
    cuts: outline.inner.map(({ role, path }) => ({ kind: role, path })),
    axis: report.half ? null : (centrelineAmong(outline.others, map) ?? common),
    all,
  }));
  return pieces.map((piece, i) => {
    const { report, outline } = piece;
    const side = firstSide(
      evidence[i]!,
      evidence.filter((_, k) => k !== i),
    );
    // A text that decides the side, the number or the pile is asked about there.
    const others = texts[i]!.filter(
      (text) => !isAsked(text, side) && !(isOnePile && pileIn(text) !== null),
    );
    return {
      name: names[i]!,
      block: blocks.get(names[i]!)!,
      ...side,
      ...(outline.half === null ? { half: null } : halfSide(side, outline.half)),
      material: materialOf(report.labels.material, materials),
      doubt: pieceDoubt(piece, pieces, names, hidden),
      texts: others.length === 0 ? null : quotedTexts(others),
      entities: [
        isGuessed(piece)
          ? { ...outline.contour.entity, layer: layers.nameOf(outline.contour.entity.layer) }
          : asRole(outline.contour.entity, 'OUTLINE', outline.contour, map, layers),
        ...outline.inner.map((inner) =>
          inner.role === 'unknown'
            ? onUnknownLayer(inner.entity, layers, guessed, split)
            : asRole(inner.entity, inner.role, inner, map, layers),
        ),
        ...outline.others.map((entity) =>
          entity === outline.half
            ? { ...outline.half, layer: axisLayer(outline.half, layers) }
            : staysOnLayer(entity, piece, map)
              ? { ...entity, layer: layers.nameOf(entity.layer) }
              : onOwnLayer(entity, outline.contour.path, map, layers, report.half, guessed, split),
        ),
      ],
    };
  });
}

/** Why something may be no piece of its own: the drawing never shows it, or it lies in another one. */
function pieceDoubt(
  { report: { block }, outline: { within } }: SeenPiece,
  pieces: readonly SeenPiece[],
  names: readonly string[],
  hidden: readonly string[],
): string | null {
  if (block !== null && hidden.includes(block)) {
    return `the drawing never inserts its block ${block}, and inserts others: it may be out of date, or kept for another vehicle`;
  }
  if (within === null) return null;
  const around = pieces.findIndex(({ outline }) => outline.contour === within);
  const owner = around === -1 ? 'another piece' : `"${names[around]!}"`;
  return `it lies in the outline of ${owner}: it may be a piece of its own that was drawn there to save carpet, or something to be cut out of that`;
}

/** Whether a text is asked about with the side or the quantity, or says no more than "1 off". */
function isAsked(text: string, { side, quantity, quantityWhy }: FirstSide): boolean {
  const isQuoted = [side.why, quantityWhy].some((why) => why?.includes(`"${text}"`) === true);
  return isQuoted || (quantity === 1 && /^\W*(1|one)[ -]?off\W*$/i.test(text));
}

/** Where a piece belongs that was closed along a centreline, and why it is taken for one half. */
function halfSide(
  { side, drawnSide }: FirstSide,
  axis: PathEntity,
): Pick<FirstPiece, 'side' | 'drawnSide' | 'half'> {
  const half = `its outline is open, and both its ends lie on the line on layer ${axis.layer}: that is its mirror line, if only one half of it is drawn; if not, close the outline in the drawing`;
  if (side.value === 'pair') return { side, drawnSide, half };
  const why = `only one half of it seems to be drawn, beside the line on layer ${axis.layer}`;
  return { side: { value: 'centre', why }, drawnSide: null, half };
}

/**
 * Whether only the choice between lines that run beside each other made an outline of its outline. Then it
 * stays on its own layer, and `layers` of the set says that this is OUTLINE: any answer can be written
 * there, and the drawing stays as it is.
 */
function isGuessed({ outline }: SeenPiece): boolean {
  return outline.contour.role === 'unknown' && outline.twins.length > 0;
}

/** The layers, in upper case, of outlines that are guessed. */
function guessedOutlines(pieces: readonly SeenPiece[]): Set<string> {
  return new Set(
    pieces.filter(isGuessed).map(({ outline }) => outline.contour.entity.layer.toUpperCase()),
  );
}

/** The layers of the set's drawing that are taken for OUTLINE, though others might be meant. */
export function outlineLayersOf({ pieces }: Sight, layers: OwnLayers): string[] {
  return [...guessedOutlines(pieces)].map((layer) => layers.nameOf(layer));
}

/** Why the outline layers are a guess, and how another answer is written. null: they make no difference. */
export function doubtOf({ pieces }: Sight, layers: OwnLayers): string | null {
  const doubts = outlineDoubts(pieces);
  const [first] = doubts;
  if (first === undefined) return null;
  const [own, other] = [first.layer, first.other].map((layer) => layers.nameOf(layer));
  const answers = `if it is right, say what the other is, like { ${own!}: OUTLINE, ${other!}: BOUND }; if not, like { ${own!}: NOTE, ${other!}: OUTLINE }`;
  const both = new Set([first.layer, first.other]);
  const several = pieces.filter(({ report }) => report.layers.some((one) => both.has(one)));
  const ofOne = several.length > 1 ? '; or so under "layers:" of one piece alone' : '';
  return `${doubts.map(doubtWords).join('; ')}: ${answers}${ofOne}`;
}

/**
 * The layers of a drawing, and more: a line that lies within a piece on a layer that is taken for OUTLINE
 * gets a layer of its own, because it is no outline.
 */
export function layersWithInner(layers: readonly string[], { pieces }: Sight): string[] {
  return [...layers, ...[...guessedOutlines(pieces)].map(innerLayer)];
}

function innerLayer(layer: string): string {
  return `${layer}-INNER`;
}

function onUnknownLayer(
  entity: Entity,
  layers: OwnLayers,
  guessed: ReadonlySet<string>,
  split: ReadonlyMap<Entity, string>,
): Entity {
  const own = entity.layer.toUpperCase();
  const layer = split.get(entity) ?? (guessed.has(own) ? innerLayer(own) : own);
  return { ...entity, layer: layers.nameOf(layer) };
}

/**
 * What lies in no outline, and the check square, as a block of their own: nothing of the drawing is
 * thrown away. null: there is neither.
 */
export function leftOutOf(
  { leftOut, square }: Sight,
  map: LayerMap,
  layers: OwnLayers,
): Block | null {
  const entities = [
    ...leftOut.map((entity) =>
      onOwnLayer(entity, undefined, map, layers, false, new Set(), new Map()),
    ),
    ...square.map((entity) => ({ ...entity, layer: 'NOTE' })),
  ];
  if (entities.length === 0) return null;
  return { name: leftOutBlock, entities };
}

/** The only line among entities that is said to be the vehicle's centreline. null: none or several. */
function centrelineAmong(entities: readonly Entity[], map: LayerMap): NamedLine | null {
  const lines = entities.filter(
    (entity): entity is PathEntity => entity.kind === 'path' && isCentreline(entity, map),
  );
  const path = lineThrough(lines.map((line) => line.path));
  if (path === null) return null;
  const { vertices } = path;
  return { layer: lines[0]!.layer, from: vertices[0]!, to: vertices.at(-1)! };
}

/** Whether the layer of a line says that it is the vehicle's centreline, or is named as if it were. */
function isCentreline({ layer }: PathEntity, map: LayerMap): boolean {
  const meaning = meaningOf(layer, map);
  return meaning === null
    ? /^c[ ./-]?l$|cent(re|er)[ _-]?line/i.test(layer)
    : meaning.role === 'AXIS';
}

/** The texts on a piece that are neither labels nor its name nor that of anything drawn on it. */
function wishes({ report, outline }: SeenPiece): string[] {
  const own = report.name.replace(/ \(\d+\)$/, '');
  return outline.others
    .filter((entity): entity is TextEntity => entity.kind === 'text' && !isEdgeName(entity))
    .filter((entity) => !onlyNames(entity, outline))
    .map(({ text }) =>
      text
        .split('\n')
        .filter((line) => !isKnownLabel(line))
        .join(' ')
        .replaceAll(/\s+/g, ' ')
        .trim(),
    )
    .filter((text) => text !== '' && slug(text) !== slug(own));
}

function isEdgeName({ layer }: TextEntity): boolean {
  return keptLayer(layer) !== 'NOTE';
}

/** Labels that `import` has taken, or that say nothing about how a piece is cut. */
function isKnownLabel(line: string): boolean {
  if (isQuantity(line)) return true;
  return /^\s*(piece name|material|style name|size|sample size|units|author|version|creation (date|time)|product)\s*:/i.test(
    line,
  );
}

/**
 * A contour, put on the layer of its role. If its own layer already has that role, it keeps any suffix, and
 * a layer that somebody has said so of stays.
 */
function asRole(
  { layer, line }: Entity,
  role: Role,
  { path }: ClosedLine,
  map: LayerMap,
  layers: OwnLayers,
): Entity {
  const own = meaningOf(layer, map);
  const named = own?.role === role ? layerName(own) : role;
  const isKept = own?.role === role && layers.isKept(layer);
  return { kind: 'path', layer: isKept ? layers.nameOf(layer) : named, line, path };
}

function axisLayer({ layer }: Entity, layers: OwnLayers): string {
  return layers.isKept(layer) ? layers.nameOf(layer) : 'AXIS';
}

/**
 * Anything but a contour, put on the layer of its meaning. If it has none, or somebody has said what it is,
 * it stays on its own layer: `check` asks about the one, and the other answer can be changed. A text goes to NOTE. The mirror line of a piece that has been made whole
 * goes to NOTE too, because it is no longer needed.
 */
function onOwnLayer(
  entity: Entity,
  outline: Path | undefined,
  map: LayerMap,
  layers: OwnLayers,
  half: boolean,
  guessed: ReadonlySet<string>,
  split: ReadonlyMap<Entity, string>,
): Entity {
  if (entity.kind === 'text') {
    const { line, text, at, height } = entity;
    return { ...textEntity(keptLayer(entity.layer), text, at, height), line };
  }
  const meaning = meaningOf(entity.layer, map);
  if (meaning === null) return onUnknownLayer(entity, layers, guessed, split);
  const isDone = half && meaning.role === 'AXIS';
  const named = isDone || meaning.role === 'NOTE' ? 'NOTE' : layerName(meaning);
  const layer = layers.isKept(entity.layer) && !isDone ? layers.nameOf(entity.layer) : named;
  const { line } = entity;
  if (entity.kind === 'path') return { kind: 'path', layer, line, path: entity.path };
  const drawn = numberedPath(entity, meaning.role, outline);
  return drawn === undefined
    ? { kind: 'point', layer, line, at: entity.at }
    : { kind: 'path', layer, line, path: drawn };
}

/**
 * The layer of a text: NOTE, except that a text on the layer of an edge's line stays there, because it
 * names that edge.
 */
function keptLayer(layer: string): string {
  const role = meaningOf(layer, new Map())?.role;
  return role !== undefined && tracedKinds[role] !== undefined ? layer.toUpperCase() : 'NOTE';
}

/**
 * Whether a text on a layer that says nothing stays there: it may name the line beside it, once somebody
 * says that this is what the layer is.
 */
function staysOnLayer(entity: Entity, { report, outline }: SeenPiece, map: LayerMap): boolean {
  return (
    entity.kind === 'text' &&
    meaningOf(entity.layer, map) === null &&
    slug(entity.text) !== slug(report.name) &&
    mayNameEdge(entity, outline)
  );
}

/** Turns names into names that a set file allows: small letters, digits and hyphens, each only once. */
function distinctNames(names: readonly string[]): string[] {
  const taken = new Set<string>();
  return names.map((name) => {
    const base =
      slug(name)
        .slice(0, longestName - 4)
        .replace(/-$/, '') || 'piece';
    let own = base;
    for (let n = 2; taken.has(own); n++) own = `${base}-${n}`;
    taken.add(own);
    return own;
  });
}

/** A text as small letters, digits and single hyphens; empty if it has neither letters nor digits. */
export function slug(text: string): string {
  const plain = text
    .normalize('NFKD')
    .replaceAll('ß', 'ss')
    .replaceAll(/\p{Mark}/gu, '');
  return plain
    .toLowerCase()
    .replaceAll(/[^a-z0-9]+/g, '-')
    .replaceAll(/^-+|-+$/g, '');
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
