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
 * Writes a DXF of version AC1021 (2007), with LF and in mm, through the package dxf-writer. Entities
 * stand layer by layer, those of one layer in the given order, all in model space; there are no blocks. A
 * path becomes an LWPOLYLINE with bulges, a path of one vertex a POINT, and each line of a text a TEXT.
 * The same input gives the same bytes. Throws RangeError if a number is not finite, a path has no length,
 * DXF does not allow a name, or a layer is missing.
 */
export function writeByLayer(entities: readonly Entity[], layers: readonly NamedLayer[]): string {
  checkLayers(layers, entities);
  // The package goes on counting handles from file to file; a file must not depend on what was written
  // before it.
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
  // Bulges have nine decimals: on a chord of ten metres a millionth of a bulge moves the arc by 0.005 mm.
  const points = vertices.map(
    ({ x, y, bulge }) => [decimal(x, 6), decimal(y, 6), decimal(bulge, 9)] as const,
  );
  drawing.drawPolyline(points, closed);
}

function drawPoint(drawing: Drawing, { x, y }: Point): void {
  drawing.drawPoint(decimal(x, 6), decimal(y, 6));
}
