import { refuse } from '../../base/findings.ts';
import type { Entity } from '../../drawing/drawing.ts';
import { pathEntity, textEntity } from '../../drawing/entity-of.ts';
import { circle } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { distance } from '../../geometry/paths/point.ts';
import type { Transform } from '../../geometry/paths/transform.ts';
import { compose, identity, reflectionIn, translation } from '../../geometry/paths/transform.ts';
import type { Follows, LayerMap } from '../../pattern/layers.ts';
import { layerName, meaningOf } from '../../pattern/layers.ts';
import { leftOutBlock, leftOutKey } from '../../pattern/set-file.ts';
import { canFollow } from '../../pattern/words.ts';
import { blockNamed, blockNameOf, pieceSaid, thingsOf, withEntities } from '../blocks.ts';
import type { DraftContent } from '../content.ts';
import type { AddedShape, EditOf } from '../draft-edit.ts';
import { movedEntity } from '../moved-entity.ts';
import { answeredIn } from '../values.ts';

/** The height of texts that are added, mm. */
const textHeight = 12;

/** Some things of a block mean something else: they go onto the layer of that name. */
export function editMeaning(
  content: DraftContent,
  { block, things, means, also = [] }: EditOf<'mean'>,
): DraftContent {
  const layer = layerOf(means);
  return [{ block, things }, ...also].reduce(
    (before, one) => changed(before, one.block, one.things, (entity) => ({ ...entity, layer })),
    content,
  );
}

/** Some things of a piece, each of which stays what it is, go with somebody else. */
export function editFollows(
  content: DraftContent,
  map: LayerMap,
  { piece, things, follows }: EditOf<'follow'>,
): DraftContent {
  const block = blockNameOf(piece, pieceSaid(content, piece));
  return changed(content, block, things, (entity) => following(entity, follows, map));
}

/** A thing that goes with somebody; what can follow nobody, or of which nothing is said, stays as it is. */
export function following(entity: Entity, follows: Follows | null, map: LayerMap): Entity {
  const meaning = meaningOf(entity.layer, map);
  if (meaning === null || !canFollow(meaning.role) || meaning.follows === follows) return entity;
  return { ...entity, layer: layerName({ ...meaning, follows }) };
}

export function addThing(
  content: DraftContent,
  { block, means, shape }: EditOf<'add'>,
): DraftContent {
  const { name, entities } = blockNamed(content, block);
  return withEntities(content, name, [...entities, entityOfShape(shape, layerOf(means))]);
}

function entityOfShape(shape: AddedShape, layer: string): Entity {
  const pointOf = ([x, y]: readonly [number, number]) => ({ x, y });
  switch (shape.kind) {
    case 'circle':
      return pathEntity(layer, circle(pointOf(shape.at), shape.diameter / 2));
    case 'point':
      return { kind: 'point', layer, line: 0, at: pointOf(shape.at) };
    case 'line':
      return pathEntity(layer, {
        closed: shape.closed,
        vertices: shape.points.map((at, i) => ({ ...pointOf(at), bulge: shape.bulges?.[i] ?? 0 })),
      });
    case 'text':
      return textEntity(layer, shape.text, pointOf(shape.at), textHeight);
  }
}

export function removeThings(
  content: DraftContent,
  { block, things }: EditOf<'remove'>,
): DraftContent {
  const { name, entities } = blockNamed(content, block);
  const gone = thingsOf({ name, entities }, things);
  const left = entities.filter((_, i) => !things.includes(i));
  if (name === leftOutBlock) return answeredLeftOut(withEntities(content, name, left));
  return withLeftOut(withEntities(content, name, left), gone);
}

export function moveThings(
  content: DraftContent,
  { block, things, by: [x, y] }: EditOf<'move'>,
): DraftContent {
  const move = translation({ x, y });
  return changed(content, block, things, (entity) => movedEntity(entity, move));
}

/** Things of a block once more: moved, and mirrored before that if a line says so. */
export function copyThings(
  content: DraftContent,
  { block, things, by: [x, y], mirror }: EditOf<'copy'>,
): DraftContent {
  const { name, entities } = blockNamed(content, block);
  const move = compose(translation({ x, y }), mirror === null ? identity : mirrorIn(mirror));
  const copies = thingsOf({ name, entities }, things).map((entity) => movedEntity(entity, move));
  return withEntities(content, name, [...entities, ...copies]);
}

function mirrorIn(line: NonNullable<EditOf<'copy'>['mirror']>): Transform {
  const [from, to] = line.map(([x, y]) => ({ x, y })) as [Point, Point];
  if (distance(from, to) > 0) return reflectionIn({ from, to });
  return refuse('draft', 'a mirror line needs two points.', 'Choose two that are apart.');
}

/** Things of one block go to a piece, where they lie; from what is left out, or from another piece. */
export function giveThings(
  content: DraftContent,
  { block, things, piece }: EditOf<'give'>,
): DraftContent {
  const from = blockNamed(content, block);
  const given = thingsOf(from, things);
  const left = withEntities(
    content,
    from.name,
    from.entities.filter((_, i) => !things.includes(i)),
  );
  const to = blockNamed(left, blockNameOf(piece, pieceSaid(left, piece)));
  return answeredLeftOut(withEntities(left, to.name, [...to.entities, ...given]));
}

/** What leaves a piece is kept in the block of what lies in none, and is asked about no more. */
export function withLeftOut(content: DraftContent, things: readonly Entity[]): DraftContent {
  const before = content.blocks.find(({ name }) => name === leftOutBlock)?.entities ?? [];
  return withEntities(content, leftOutBlock, [...before, ...things]);
}

/** Without the question about what is left out, once nothing is. */
function answeredLeftOut(content: DraftContent): DraftContent {
  const left = content.blocks.find(({ name }) => name === leftOutBlock)?.entities ?? [];
  if (left.length > 0) return content;
  return { ...content, said: answeredIn(content.said, [leftOutKey]) };
}

function changed(
  content: DraftContent,
  block: string,
  things: readonly number[],
  change: (entity: Entity) => Entity,
): DraftContent {
  const { name, entities } = blockNamed(content, block);
  thingsOf({ name, entities }, things);
  return withEntities(
    content,
    name,
    entities.map((entity, i) => (things.includes(i) ? change(entity) : entity)),
  );
}

/** The layer that has a meaning: its own name. Refuses what is none. */
function layerOf(means: string): string {
  const layer = means.toUpperCase();
  if (meaningOf(layer, new Map()) !== null) return layer;
  return refuse('draft', `"${means}" says nothing that a layer can mean.`, 'Choose another.');
}
