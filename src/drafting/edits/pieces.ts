import { refuse } from '../../base/findings.ts';
import { rounded } from '../../base/numbers.ts';
import type { Entity, PathEntity } from '../../drawing/drawing.ts';
import { pathOfEntity } from '../../drawing/entity-of.ts';
import { centreOf } from '../../geometry/paths/box.ts';
import { compose, rotation, translation } from '../../geometry/paths/transform.ts';
import { boxOfEntities } from '../../drawing/extents.ts';
import { placeInPath } from '../../geometry/relations/contains.ts';
import { leftOutKey, pieceName } from '../../pattern/set-file.ts';
import { blockNames } from '../../pattern/write-set.ts';
import {
  blockNamed,
  blockNameOf,
  blockOfPiece,
  pieceSaid,
  withEntities,
  withoutBlock,
} from '../blocks.ts';
import type { DraftContent, PieceSaid, SetSaid } from '../content.ts';
import type { EditOf } from '../draft-edit.ts';
import { movedEntity } from '../moved-entity.ts';
import { answeredIn, filled, withPiece, withPieces, withValues } from '../values.ts';
import { withLeftOut } from './things.ts';

/** A closed line becomes the outline of a piece of its own, with all that lies in it or on it. */
export function beginPiece(
  content: DraftContent,
  { block, outline, piece }: EditOf<'begin-piece'>,
): DraftContent {
  const from = blockNamed(content, block);
  const contour = from.entities[outline];
  if (contour === undefined || contour.kind !== 'path' || !contour.path.closed) {
    return refuse(
      'draft',
      'the outline of a piece is a closed line, and this is none.',
      'Choose a closed line.',
    );
  }
  const own = freeBlock(content, piece);
  const isTaken = (entity: Entity): boolean => entity === contour || liesIn(entity, contour);
  const left = withEntities(
    content,
    from.name,
    from.entities.filter((entity) => !isTaken(entity)),
  );
  const taken = from.entities
    .filter(isTaken)
    .map((entity) => (entity === contour ? { ...entity, layer: 'OUTLINE' } : entity));
  return withNewPiece(withEntities(left, own, taken), piece, {
    ...(own === piece.toUpperCase() ? {} : { block: own }),
    side: 'centre',
    material: usualMaterial(content.said),
    open: {
      side: 'it was begun from a line, and nobody said which side it is for',
      material: 'nobody said it yet',
    },
  });
}

/** Whether an entity lies in a closed line, or on it, with all its corners. */
function liesIn(entity: Entity, { path }: PathEntity): boolean {
  return pathOfEntity(entity).vertices.every((at) => placeInPath(path, at) !== 'outside');
}

/** The material that most pieces of a set are cut from. */
function usualMaterial({ pieces }: SetSaid): string {
  const all = Object.values(pieces).map(({ material }) => material);
  const count = (name: string): number => all.filter((one) => one === name).length;
  return all.reduce((most, one) => (count(one) > count(most) ? one : most), all[0] ?? 'carpet');
}

function withNewPiece(content: DraftContent, piece: string, entry: PieceSaid): DraftContent {
  refuseTaken(content, piece);
  return withPieces(content, { ...content.said.pieces, [piece]: entry });
}

function refuseTaken({ said }: DraftContent, piece: string): void {
  if (!pieceName.safeParse(piece).success) {
    const todo = 'Use small letters and digits, joined by single hyphens.';
    refuse('draft', `"${piece}" is no name for a piece.`, todo);
  }
  if (Object.hasOwn(said.pieces, piece)) {
    refuse('draft', `there is a piece "${piece}" already.`, 'Give it another name.', { piece });
  }
}

/** A name for the block of a new piece that no block has. */
function freeBlock({ blocks }: DraftContent, piece: string): string {
  const taken = new Set(blocks.map(({ name }) => name.toUpperCase()));
  const wanted = blockNames([piece]).get(piece)!;
  for (let n = 1; ; n++) {
    const name = n === 1 ? wanted : `PIECE-${n}`;
    if (!taken.has(name)) return name;
  }
}

/** A piece that is none: what was drawn on it is kept with what lies in no outline. */
export function dropPiece(content: DraftContent, { piece }: EditOf<'drop-piece'>): DraftContent {
  const { name, entities } = blockOfPiece(content, piece);
  const { [piece]: _, ...pieces } = content.said.pieces;
  if (Object.keys(pieces).length === 0) {
    refuse(
      'draft',
      'a set has at least one piece, and this is its last.',
      'Keep it, or remove the folder of the set.',
      { piece },
    );
  }
  const bare = withPieces(content, pieces);
  const said = withValues(bare.said, {
    seams: none(
      (bare.said.seams ?? []).filter(({ join }) => !join.some((ref) => isOf(ref, piece))),
    ),
    groups: filled(
      Object.fromEntries(
        Object.entries(bare.said.groups ?? {})
          .map(([group, names]) => [group, names.filter((one) => one !== piece)] as const)
          .filter(([, names]) => names.length > 0),
      ),
    ),
  });
  const why = `"${piece}" was said to be no piece, and all that was drawn of it is kept here`;
  const asked = { ...said, open: { ...said.open, [leftOutKey]: why } };
  return withLeftOut({ ...withoutBlock(bare, name), said: asked }, entities);
}

/** A piece under another name: in seams and groups too. Its block stays. */
export function renamePiece(content: DraftContent, { piece, to }: EditOf<'rename'>): DraftContent {
  const entry = pieceSaid(content, piece);
  refuseTaken(content, to);
  const block = blockNameOf(piece, entry);
  const renamed =
    block === to.toUpperCase() ? withValues(entry, { block: null }) : { ...entry, block };
  const { said } = content;
  const pieces = Object.fromEntries(
    Object.entries(said.pieces).map(([name, own]) =>
      name === piece ? [to, renamed] : [name, own],
    ),
  );
  const inSeam = (ref: string): string => (isOf(ref, piece) ? to + ref.slice(piece.length) : ref);
  return {
    ...content,
    said: withValues(said, {
      pieces,
      seams: none((said.seams ?? []).map((seam) => ({ ...seam, join: seam.join.map(inSeam) }))),
      groups: filled(
        Object.fromEntries(
          Object.entries(said.groups ?? {}).map(([group, names]) => [
            group,
            names.map((one) => renamedInGroup(one, piece, to)),
          ]),
        ),
      ),
    }),
  };
}

function renamedInGroup(name: string, piece: string, to: string): string {
  const side = ['', '-left', '-right'].find((end) => name === piece + end);
  return side === undefined ? name : to + side;
}

function isOf(ref: string, piece: string): boolean {
  return ref.split('/')[0] === piece;
}

function none<T>(list: readonly T[]): readonly T[] | null {
  return list.length === 0 ? null : list;
}

/** A piece turned by quarters in its drawing, counter-clockwise, about its middle. */
export function turnPiece(
  content: DraftContent,
  { piece, quarters }: EditOf<'turn'>,
): DraftContent {
  const { name, entities } = blockOfPiece(content, piece);
  const { x, y } = centreOf(boxOfEntities(entities));
  // Whole mm, so that quarter turns are exact and four of them change nothing.
  const middle = { x: Math.round(x), y: Math.round(y) };
  const there = translation({ x: -middle.x, y: -middle.y });
  const turn = compose(translation(middle), compose(rotation(quarters * 90), there));
  return withEntities(
    content,
    name,
    entities.map((entity) => movedEntity(entity, turn)),
  );
}

/** A piece at another place in the vehicle, in tenths of a mm. */
export function placeInVehicle(
  content: DraftContent,
  { piece, to, by }: EditOf<'place'>,
): DraftContent {
  const entry = pieceSaid(content, piece);
  const before = entry.at ?? content.said.at ?? [0, 0];
  const placed = ([0, 1] as const).map((i) =>
    rounded((to[i] ?? before[i]) + by[i], 1),
  ) as unknown as [number, number];
  return withPiece(content, piece, { ...entry, at: placed });
}

const quartersToFront = { up: 0, right: 1, down: 2, left: 3 } as const;

/**
 * Pieces turned so that what is their front in the drawing comes to lie upwards, which `front` says from then
 * on. Where they lie in the vehicle is another question.
 */
export function turnToFront(
  content: DraftContent,
  { pieces, front }: EditOf<'front'>,
): DraftContent {
  const quarters = quartersToFront[front];
  const turned = pieces.reduce(
    (before, piece) =>
      quarters === 0 ? before : turnPiece(before, { kind: 'turn', piece, quarters }),
    content,
  );
  const { said } = turned;
  if (pieces.length === Object.keys(said.pieces).length) {
    return { ...turned, said: { ...said, front: 'top' } };
  }
  return pieces.reduce(
    (before, piece) => withPiece(before, piece, { ...pieceSaid(before, piece), front: 'top' }),
    turned,
  );
}

/** Two pieces that are the halves of a pair become one, whose other half is held against it. */
export function pairPieces(content: DraftContent, { piece, other }: EditOf<'pair'>): DraftContent {
  if (piece === other) {
    refuse('draft', 'a pair has two halves.', 'Choose another piece for its other half.', {
      piece,
    });
  }
  const entry = pieceSaid(content, piece);
  const second = pieceSaid(content, other);
  const { [other]: _, ...pieces } = content.said.pieces;
  const drawnSide = entry.drawnSide ?? (entry.side === 'left' ? 'left' : 'right');
  const paired = withValues(answeredIn(entry, ['side', 'drawnSide']), {
    side: 'pair',
    drawnSide,
    other: blockNameOf(other, second),
  });
  return withPiece(withPieces(content, pieces), piece, paired);
}
