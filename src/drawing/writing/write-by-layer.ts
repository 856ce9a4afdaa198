import Drawing from 'dxf-writer/src/Drawing.js';
import Handle from 'dxf-writer/src/Handle.js';
import type { Box } from '../../geometry/paths/box.ts';
import type { Path } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { decimal } from '../../base/numbers.ts';
import type { Entity } from '../drawing.ts';
import { boxOfEntities } from '../extents.ts';
import { encodeText } from '../tags/text-codes.ts';
import type { NamedLayer } from './named-layers.ts';
import { checkLayers } from './named-layers.ts';
import { textLines } from './text-lines.ts';

/**
 * The text of a DXF of the newer flavour (AC1021, LF, $INSUNITS mm), one layer after another: model space
 * alone, no blocks, the entities of a layer in the order given. A path becomes an LWPOLYLINE with
 * bulges, one of a single vertex a POINT, text of several lines a TEXT each. The same input gives the
 * same bytes. Throws RangeError on numbers that are not finite, a path without a course, names that
 * DXF does not take, and layers that are not given.
 */
export function writeByLayer(entities: readonly Entity[], layers: readonly NamedLayer[]): string {
  checkLayers(layers, entities);
  // The package counts handles through the life of the process; a file must not tell what came before it.
  Handle.seed = 0;
  const drawing = new Drawing();
  drawing.setUnits('Millimeters');
  drawing.header('MEASUREMENT', [[70, '1']]);
  for (const [variable, at] of cornersOf(boxOfEntities(entities))) {
    drawing.header(variable, [...pointTags(at), [30, '0']]);
  }
  for (const { name, colour } of layers) drawing.addLayer(name, colour, 'CONTINUOUS');
  for (const entity of entities) draw(drawing.setActiveLayer(entity.layer), entity);
  return `${drawing.toDxfString()}\n`;
}

function cornersOf({ minX, minY, maxX, maxY }: Box): [variable: string, at: Point][] {
  if (minX === Infinity) return [];
  return [
    ['EXTMIN', { x: minX, y: minY }],
    ['EXTMAX', { x: maxX, y: maxY }],
  ];
}

function pointTags({ x, y }: Point): [code: number, value: string][] {
  return [
    [10, decimal(x, 6)],
    [20, decimal(y, 6)],
  ];
}

function draw(drawing: Drawing, entity: Entity): void {
  switch (entity.kind) {
    case 'path':
      return drawPath(drawing, entity.path);
    case 'point':
      return drawPoint(drawing, entity.at);
    case 'text':
      for (const { at, height, deg, text } of textLines(entity)) {
        drawing.drawText(
          decimal(at.x, 6),
          decimal(at.y, 6),
          decimal(height, 6),
          decimal(deg, 6),
          encodeText(text),
        );
      }
  }
}

function drawPath(drawing: Drawing, { closed, vertices }: Path): void {
  const [first, second] = vertices;
  if (first !== undefined && second === undefined && !closed) return drawPoint(drawing, first);
  if (second === undefined) throw new RangeError('a path without a course cannot be drawn');
  // A millionth of a bulge is half a hundredth of a millimetre on ten metres, so bulges have nine.
  const points = vertices.map(
    ({ x, y, bulge }) => [decimal(x, 6), decimal(y, 6), decimal(bulge, 9)] as const,
  );
  drawing.drawPolyline(points, closed);
}

function drawPoint(drawing: Drawing, { x, y }: Point): void {
  drawing.drawPoint(decimal(x, 6), decimal(y, 6));
}
