import { memoryByKey, rememberedFor } from '../base/remembered.ts';
import type { Block, Entity } from '../drawing/drawing.ts';
import { boxOfEntities } from '../drawing/extents.ts';
import { startOfEntity } from '../drawing/entity-of.ts';
import { rounded } from '../base/numbers.ts';
import type { Box } from '../geometry/paths/box.ts';
import { unionBox } from '../geometry/paths/box.ts';
import { boxOfPath, middleOfPath } from '../geometry/paths/path.ts';
import type { Path } from '../geometry/paths/path.ts';
import { pathData } from '../papers/svg/svg.ts';
import { vehicleFrame } from '../handing/frame.ts';
import type { DrawnLine } from '../pattern/feature.ts';
import type { LayerMap, Role } from '../pattern/layers.ts';
import { layerName, meaningOf } from '../pattern/layers.ts';
import type { Piece } from '../pattern/piece.ts';
import type { RoleGuess, ThingGuess } from '../pattern/first-look/guess-roles.ts';
import { leftOutBlock } from '../pattern/set-file.ts';
import { thingWords } from '../pattern/unknown-layers.ts';
import type { EditContext } from './edit-context.ts';
import { blockNameOf, findBlock } from './blocks.ts';
import { alikeKey, guessesIn } from './guesses.ts';
import type { DraftContent, PieceSaid, SetSaid } from './content.ts';
import type { EdgesView, Spot } from './edge-view.ts';
import type { BoxView } from './box-view.ts';
import { extentOf } from './box-view.ts';
import type { PlanOverlap } from './overlaps.ts';
import { edgesView } from './edge-view.ts';
import { mirrorLine } from './edges/half.ts';
import type { ReadDraft } from './read-draft.ts';

/** One thing of a block as the page draws it: SVG path data in mm, in the frame of the block, y up. */
export interface ThingView {
  /** Its place in the block. */
  readonly index: number;
  readonly kind: Entity['kind'];
  readonly layer: string;
  /** What its layer means: ROLE, ROLE-FOLLOWS, with options. null: its layer says nothing. */
  readonly means: string | null;
  readonly role: Role | null;
  readonly isClosed: boolean;
  readonly d: string;
  /** Where its words stand: in its middle. */
  readonly at: Spot;
  /** What a text says, and how it stands: height in mm, degrees counter-clockwise. */
  readonly text: { readonly words: string; readonly height: number; readonly deg: number } | null;
  /** What it is, in words: `a closed line of 180 by 90 mm`. */
  readonly words: string;
  /** What it may be, where nothing says it: the likeliest first. */
  readonly guesses: readonly RoleGuess[];
  /** The same for all things that look alike, on whichever piece. null: what it is is said. */
  readonly alike: string | null;
}

/** A piece of a draft as the page shows it. */
export interface PieceView extends EdgesView {
  readonly name: string;
  readonly block: string;
  /** What the set file says of it, as it is written. */
  readonly said: PieceSaid;
  readonly things: readonly ThingView[];
  /** Things of the block of a pair's other half, where both are drawn. */
  readonly other: readonly ThingView[];
  /** The net outline; null: it could not be read, and a question says why. */
  readonly outline: string | null;
  /** minX, minY, maxX, maxY of its outline; of all that is drawn where that could not be read. */
  readonly outlineBox: BoxView;
  readonly pile: readonly [Spot, Spot] | null;
  readonly axis: readonly [Spot, Spot] | null;
  /** Of a piece that is drawn half: the line in which it is mirrored. null: it is drawn whole. */
  readonly mirror: readonly [Spot, Spot] | null;
  /** minX, minY, maxX, maxY of all that is drawn, and of its outline. */
  readonly box: BoxView;
  /**
   * From the frame of the block to that of the vehicle: a, b, c, d, e and f of x' = a x + c y + e, y' = b x + d y + f.
   */
  readonly frame: readonly [number, number, number, number, number, number];
}

/** A layer that says nothing by its name: how many things lie on it, in which pieces, what it was said to mean. */
export interface LayerView {
  readonly name: string;
  readonly count: number;
  readonly pieces: readonly string[];
  readonly means: string | null;
}

/** What the page shows of a draft besides its pieces. */
export interface DraftHead {
  readonly name: string;
  readonly version: string;
  /** What the set file says, without its pieces. */
  readonly said: Omit<SetSaid, 'pieces'>;
  /** The names of its pieces, in the order of the set file. */
  readonly pieces: readonly string[];
  readonly layers: readonly LayerView[];
  readonly leftOut: readonly ThingView[];
  /** The pieces that lie on each other in the vehicle. */
  readonly overlaps: readonly PlanOverlap[];
  /** What would be undone or done again, in words. null: nothing. */
  readonly undo: string | null;
  readonly redo: string | null;
  /** Whether the set's drawing is another program's: the desk writes its own with the first change of it. */
  readonly isForeign: boolean;
}

/** The pieces of a draft as the page shows them; `read` null: it could not be read. Those that did not change are the same objects as before. */
export function pieceViews(
  content: DraftContent,
  read: ReadDraft | null,
  { layersOf }: EditContext,
): PieceView[] {
  const pieces = new Map((read?.pieces ?? []).map((piece) => [piece.name, piece]));
  return Object.entries(content.said.pieces).map(([name, said]) => {
    const block = blockIn(content, blockNameOf(name, said));
    const other = said.other === undefined ? null : blockIn(content, said.other);
    const piece = pieces.get(name) ?? null;
    const map = layersOf(name);
    const edges = edgesView(piece, block, map, read);
    const view = (): PieceView => pieceView(name, said, block, other, piece, map, edges);
    if (other !== null) return view();
    const key = JSON.stringify([name, said, [...map], idOf(piece), idOfEdges(edges)]);
    return viewedBefore(block, key, view);
  });
}

const viewedBefore = memoryByKey<Block, PieceView>(4);

let known = 0;

/** Tells a piece that was read from all others. */
const idOfPiece = rememberedFor<Piece, number>(() => ++known);

/** Tells what happens along an outline from all else. */
const idOfEdges = rememberedFor<EdgesView, number>(() => ++known);

function idOf(piece: Piece | null): number {
  return piece === null ? 0 : idOfPiece(piece);
}

function pieceView(
  name: string,
  said: PieceSaid,
  own: Block,
  other: Block | null,
  piece: Piece | null,
  map: LayerMap,
  edges: EdgesView,
): PieceView {
  const { name: block, entities } = own;
  const box = boxOf(piece, entities);
  return {
    name,
    block,
    said,
    things: thingViews(entities, map, guessesIn(own, map, name)),
    other: other === null ? [] : thingViews(other.entities, map),
    outline: piece === null ? null : pathData(piece.outline),
    pile: piece === null || piece.pile === null ? null : spots(piece.pile),
    axis: piece === null || piece.axis === null ? null : spots(piece.axis),
    mirror: said.half === true ? mirrorOf(entities, map) : null,
    outlineBox: extentOf(piece === null ? box : boxOfPath(piece.outline)),
    box: extentOf(box),
    frame: frameOf(said, piece),
    ...edges,
  };
}

function frameOf(said: PieceSaid, piece: Piece | null): PieceView['frame'] {
  const [e, f] = said.at ?? [0, 0];
  if (piece === null) return [1, 0, 0, 1, e, f];
  const frame = vehicleFrame(piece);
  return [frame.a, frame.b, frame.c, frame.d, frame.e, frame.f];
}

const nothing: readonly Entity[] = [];

function blockIn(content: DraftContent, name: string): Block {
  return findBlock(content, name) ?? { name: name.toUpperCase(), entities: nothing };
}

function boxOf(piece: Piece | null, entities: readonly Entity[]): Box {
  if (piece === null) return boxOfEntities(entities);
  const outline = boxOfPath(piece.outline);
  // Of a piece that is drawn half the outline is larger than what is drawn.
  return entities.length === 0 ? outline : unionBox(boxOfEntities(entities), outline);
}

function mirrorOf(entities: readonly Entity[], map: LayerMap): PieceView['mirror'] {
  const line = mirrorLine(entities, map);
  return line === null ? null : [spotOf(line[0]), spotOf(line[1])];
}

function spots({ from, to }: DrawnLine): [Spot, Spot] {
  return [spotOf(from), spotOf(to)];
}

function spotOf({ x, y }: { readonly x: number; readonly y: number }): Spot {
  return [rounded(x, 2), rounded(y, 2)];
}

/** The things of a block as the page draws them. */
function thingViews(
  entities: readonly Entity[],
  map: LayerMap,
  guessed: readonly ThingGuess[] = [],
): ThingView[] {
  const guessOf = new Map(guessed.map((one) => [one.index, one]));
  return entities.map((entity, index) => {
    const meaning = meaningOf(entity.layer, map);
    const guess = guessOf.get(index);
    return {
      index,
      kind: entity.kind,
      layer: entity.layer,
      means: meaning === null ? null : layerName(meaning),
      role: meaning?.role ?? null,
      isClosed: entity.kind === 'path' && entity.path.closed,
      d: entity.kind === 'path' ? pathData(entity.path) : '',
      at: spotOf(entity.kind === 'path' ? middleOf(entity.path) : startOfEntity(entity)),
      text:
        entity.kind === 'text'
          ? { words: entity.text, height: rounded(entity.height, 2), deg: rounded(entity.deg, 2) }
          : null,
      words: thingWords(entity),
      guesses: guess?.guesses ?? [],
      alike: guess === undefined ? null : alikeKey(guess),
    };
  });
}

function middleOf(path: Path): { readonly x: number; readonly y: number } {
  if (!path.closed) return middleOfPath(path);
  const { minX, minY, maxX, maxY } = boxOfPath(path);
  return { x: (minX + maxX) / 2, y: (minY + maxY) / 2 };
}

/** What lies in no outline, as the page draws it. */
export function leftOutViews(content: DraftContent, { layersOf }: EditContext): ThingView[] {
  return thingViews(blockIn(content, leftOutBlock).entities, layersOf(null));
}

/** The layers on which something lies and whose names say nothing. */
export function layerViews(content: DraftContent, { layersOf }: EditContext): LayerView[] {
  const found = new Map<string, { pieces: Set<string>; count: number; means: string | null }>();
  for (const [piece, said] of Object.entries(content.said.pieces)) {
    const blocks = [blockNameOf(piece, said), ...(said.other === undefined ? [] : [said.other])];
    const map = layersOf(piece);
    for (const { layer, kind } of blocks.flatMap((block) => blockIn(content, block).entities)) {
      if (kind === 'text' || meaningOf(layer, new Map()) !== null) continue;
      const meaning = meaningOf(layer, map);
      const one = found.get(layer) ?? { pieces: new Set(), count: 0, means: null };
      one.pieces.add(piece);
      one.count += 1;
      one.means = meaning === null ? one.means : layerName(meaning);
      found.set(layer, one);
    }
  }
  return [...found].map(([name, { pieces, count, means }]) => ({
    name,
    count,
    pieces: [...pieces],
    means,
  }));
}
