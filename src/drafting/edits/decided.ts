import type { Entity } from '../../drawing/drawing.ts';
import { cuttingRoles } from '../../pattern/feature.ts';
import type { LayerMap } from '../../pattern/layers.ts';
import { meaningOf } from '../../pattern/layers.ts';
import { blockNameOf, findBlock } from '../blocks.ts';
import type { DraftContent } from '../content.ts';
import type { EditContext } from '../edit-context.ts';

/**
 * The content after an edit of what is drawn, in which it is asked again why a piece is right for both hands
 * where something that is cut in it has changed: the old reason was given for other things.
 */
export function withDecidedAsked<T extends DraftContent>(
  before: DraftContent,
  after: T,
  { layersOf }: EditContext,
): T {
  const changed = Object.entries(after.said.pieces).filter(([piece, entry]) => {
    if (entry.decided === undefined) return false;
    const name = blockNameOf(piece, entry);
    const map = layersOf(piece);
    const old = cutsIn(before, name, map);
    const now = cutsIn(after, name, map);
    return old.length !== now.length || old.some((entity, i) => entity !== now[i]);
  });
  const decided = 'something that is cut in the piece was changed since';
  const asked = changed.map(([piece, entry]) => [
    piece,
    { ...entry, open: { ...entry.open, decided } },
  ]);
  const pieces = { ...after.said.pieces, ...Object.fromEntries(asked) };
  return asked.length === 0 ? after : { ...after, said: { ...after.said, pieces } };
}

function cutsIn(content: DraftContent, name: string, map: LayerMap): readonly Entity[] {
  return (findBlock(content, name)?.entities ?? []).filter(({ layer }) => {
    const role = meaningOf(layer, map)?.role;
    return role !== undefined && cuttingRoles.has(role);
  });
}
