import { refuse } from '../../base/findings.ts';
import type { Entity } from '../../drawing/drawing.ts';
import { pathEntity, pathOfEntity } from '../../drawing/entity-of.ts';
import { mirrorLineOf } from '../../geometry/fitting/mirror.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { polyline } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import type { DrawnLine } from '../../pattern/feature.ts';
import type { LayerMap } from '../../pattern/layers.ts';
import { meaningOf } from '../../pattern/layers.ts';
import { outlineAmong } from '../../pattern/outlines/numbered.ts';
import { axisOffMiddle } from '../../pattern/rules/axis-middle.ts';
import { blockOfPiece, withEntities } from '../blocks.ts';
import type { DraftContent } from '../content.ts';
import type { EditOf } from '../draft-edit.ts';

/** The vehicle's centreline on a piece: another, or none. */
export function editAxis(
  content: DraftContent,
  map: LayerMap,
  { piece, line }: EditOf<'axis'>,
): DraftContent {
  const { name, entities } = blockOfPiece(content, piece);
  const isAxis = ({ kind, layer }: Entity): boolean =>
    kind === 'path' && meaningOf(layer, map)?.role === 'AXIS';
  const others = entities.filter((entity) => !isAxis(entity));
  if (line === null) return withEntities(content, name, others);
  const [from, to] =
    line === 'middle'
      ? middleOf(entities, map, entities.find(isAxis), piece)
      : line.map(([x, y]) => ({ x, y }));
  return withEntities(content, name, [
    ...others,
    pathEntity('AXIS', polyline([from!, to!], false)),
  ]);
}

/** An outline that is its own mirror image to so many mm has a middle. */
const symmetrical = 1;

/** The ends of the line in the middle of a piece, which points as its centreline did. Refuses where there is none. */
function middleOf(
  entities: readonly Entity[],
  map: LayerMap,
  before: Entity | undefined,
  piece: string,
): Point[] {
  const outline = outlineAmong(entities, map)?.path;
  const drawn = before === undefined ? null : lineOf(pathOfEntity(before));
  const beside = outline === undefined ? null : axisOffMiddle({ axis: drawn, outline });
  const found = beside?.middle ?? (outline && mirrorLineOf(outline, symmetrical));
  if (found) return [found.from, found.to];
  return refuse(
    'draft',
    'its outline is not symmetrical, so nothing shows where its middle is.',
    'Point at two places of the centreline, or type how far from the left it lies.',
    { piece },
  );
}

function lineOf({ vertices }: Path): DrawnLine {
  return { from: vertices[0]!, to: vertices.at(-1)! };
}
