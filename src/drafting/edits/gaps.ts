import { refuse } from '../../base/findings.ts';
import type { Entity, PathEntity } from '../../drawing/drawing.ts';
import { chained } from '../../geometry/joining/chain.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { distance } from '../../geometry/paths/point.ts';
import { polyline } from '../../geometry/paths/path.ts';
import { samePoint } from '../../geometry/paths/tolerance.ts';
import { blockNamed, withEntities } from '../blocks.ts';
import type { DraftContent } from '../content.ts';
import type { EditOf } from '../draft-edit.ts';

/** The end of an open line, and its place in the block. */
interface End {
  readonly index: number;
  readonly entity: PathEntity;
  readonly at: Point;
}

/** A gap between two ends is closed with a straight line, which makes one line of what it joins. */
export function closeGap(
  content: DraftContent,
  { block, from, to }: EditOf<'close-gap'>,
): DraftContent {
  const { name, entities } = blockNamed(content, block);
  const ends = endsOf(entities);
  const first = endNear(ends, from);
  const second = endNear(
    ends.filter(({ entity }) => entity.layer === first.entity.layer),
    to,
  );
  const straight = polyline([first.at, second.at], false);
  const paths = [...new Set([first.entity.path, second.entity.path]), straight];
  const { chains } = chained(paths, samePoint);
  if (chains.length !== 1) {
    refuse(
      'draft',
      'more than two lines end at this gap, and which of them belong together is not clear.',
      'Take off the line that does not belong to the outline, then close the gap.',
    );
  }
  const joined: Entity = { ...first.entity, path: chains[0]!.path };
  return withEntities(
    content,
    name,
    entities.flatMap((entity, i) =>
      i === first.index ? [joined] : i === second.index ? [] : [entity],
    ),
  );
}

function endsOf(entities: readonly Entity[]): End[] {
  return entities.flatMap((entity, index): End[] => {
    if (entity.kind !== 'path' || entity.path.closed) return [];
    const { vertices } = entity.path;
    return [vertices[0]!, vertices.at(-1)!].map(({ x, y }) => ({ index, entity, at: { x, y } }));
  });
}

function endNear(ends: readonly End[], [x, y]: readonly [number, number]): End {
  const found = ends.find(({ at }) => distance(at, { x, y }) <= samePoint);
  return (
    found ??
    refuse('draft', 'the line that ended here is not there any more.', 'Look at the set again.')
  );
}
