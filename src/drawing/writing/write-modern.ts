import Drawing from 'dxf-writer/src/Drawing.js';
import Handle from 'dxf-writer/src/Handle.js';
import type { Box } from '../../geometry/paths/box.ts';
import type { Path } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { decimal } from '../../base/numbers.ts';
import type { Entity } from '../drawing.ts';
import { boxOfEntities } from '../extents.ts';
import { encodeText } from '../tags/text-codes.ts';
import { textLines } from './text-lines.ts';

/** Strokes and gaps in mm, 0 a dot. */
const lineTypes = {
  CONTINUOUS: [],
  DASHED: [6, -3],
  DOTTED: [0, -3],
  DASHDOT: [12, -3, 0, -3],
} as const;
type LineType = keyof typeof lineTypes;

export interface ModernLayer {
  readonly name: string;
  /** DXF colour number, 1 to 255. */
  readonly colour: number;
  readonly lineType: LineType;
}

/**
 * The text of a DXF of the newer flavour (AC1021, LF, $INSUNITS mm): model space alone, no blocks,
 * entities in the order given. A path becomes an LWPOLYLINE with
 * bulges, one of a single vertex a POINT, text of several lines a TEXT each. The same input gives the
 * same bytes. Throws RangeError on numbers that are not finite, a path without a course, names that
 * DXF does not take, and layers that are not given.
 */
export function writeModern(entities: readonly Entity[], layers: readonly ModernLayer[]): string {
  checkLayers(layers, entities);
  // The package counts handles through the life of the process; a file must not tell what came before it.
  Handle.seed = 0;
  const drawing = new Drawing();
  drawing.setUnits('Millimeters');
  drawing.header('MEASUREMENT', [[70, '1']]);
  for (const [variable, at] of cornersOf(boxOfEntities(entities))) {
    drawing.header(variable, [...pointTags(at), [30, '0']]);
  }
  for (const [name, elements] of Object.entries(lineTypes)) {
    drawing.addLineType(name, name.toLowerCase(), elements);
  }
  for (const { name, colour, lineType } of layers) drawing.addLayer(name, colour, lineType);
  const shapes = entities.flatMap((entity) => {
    draw(drawing.setActiveLayer(entity.layer), entity);
    return drawing.layers[entity.layer]!.shapes.splice(0);
  });
  // The package writes the shapes of one layer after those of another, each under the layer that it
  // was drawn on: kept by a single layer they stay in order.
  Object.values(drawing.layers)[0]!.shapes = shapes;
  return `${drawing.toDxfString()}\n`;
}

/** Whether later versions of DXF take this as the name of a layer. */
export function isModernName(name: string): boolean {
  // The package keeps layers by name in a plain object, which loses one of this name.
  return /^[^<>/\\":;?*|=,`\p{Cc}\p{Surrogate}]{1,255}$/u.test(name) && name !== '__proto__';
}

function checkLayers(layers: readonly ModernLayer[], entities: readonly Entity[]): void {
  const names = new Set<string>();
  for (const { name, colour } of layers) {
    if (!isModernName(name)) throw new RangeError(`DXF takes no layer named ${name}`);
    // Upper and lower case are the same layer to those who read the file.
    if (names.has(name.toUpperCase())) throw new RangeError(`there are two layers named ${name}`);
    if (!Number.isInteger(colour) || colour < 1 || colour > 255) {
      throw new RangeError(`layer ${name} has colour ${colour}; DXF has 1 to 255`);
    }
    names.add(name.toUpperCase());
  }
  const given = new Set(layers.map(({ name }) => name));
  const stray = entities.find(({ layer }) => !given.has(layer));
  if (stray !== undefined) throw new RangeError(`there is no layer ${stray.layer}`);
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
