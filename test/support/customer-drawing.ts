/**
 * A drawing as a customer might send it: in inches, and no word of that; layers in the customer's own
 * language; a title block; and something that was forgotten far outside. Fenlark and all in it are invented.
 */
import type { Tag } from '../drawing/dxf.ts';
import { dxf, line, onLayer, text } from '../drawing/dxf.ts';

const inch = 25.4;

/** A closed R12 POLYLINE through these corners, mm, written in drawing units of an inch. */
function ring(layer: string, corners: readonly (readonly [number, number, number?])[]): Tag[] {
  return [
    [0, 'POLYLINE'],
    [8, layer],
    [66, 1],
    [70, 1],
    ...corners.flatMap(([x, y, bulge = 0]): Tag[] => [
      [0, 'VERTEX'],
      [8, layer],
      [10, x / inch],
      [20, y / inch],
      [42, bulge],
    ]),
    [0, 'SEQEND'],
  ];
}

function stroke(layer: string, x1: number, y1: number, x2: number, y2: number): Tag[] {
  return onLayer(line(x1 / inch, y1 / inch, x2 / inch, y2 / inch), layer);
}

function words(layer: string, said: string, x: number, y: number, height: number): Tag[] {
  return onLayer(text(said, x / inch, y / inch, height / inch), layer);
}

function mat(x: number, y: number, width: number, height: number, name: string): Tag[][] {
  return [
    ring('Schnittkante', [
      [x, y],
      [x + width, y],
      [x + width, y + height - 120, 0.4142135],
      [x + width - 120, y + height],
      [x + 90, y + height, 0.4142135],
      [x, y + height - 90],
    ]),
    ring('Größe "B"', [
      [x + 0.3 * width, y + 0.3 * height],
      [x + 0.3 * width + 90, y + 0.3 * height, 1],
      [x + 0.3 * width + 90, y + 0.3 * height + 60],
      [x + 0.3 * width, y + 0.3 * height + 60, 1],
    ]),
    ...[0.2, 0.5, 0.8].map((t) => stroke('Knips', x + t * width, y, x + t * width, y + 12)),
    stroke('Band', x, y, x + width, y),
    words('0', name, x + 0.4 * width, y + 0.7 * height, 35),
  ];
}

/** Entities of the drawing; `more` is drawn besides. */
export function customerDrawing(more: readonly (readonly Tag[])[] = []): string {
  return dxf({
    entities: [
      ...mat(0, 0, 1780, 640, 'FRONT MAT'),
      ...mat(0, 900, 900, 520, 'STEP LEFT'),
      ...mat(1100, 900, 900, 520, 'STEP RIGHT'),
      ring('Absatz', [
        [1200, 120],
        [1500, 120],
        [1500, 320],
        [1200, 320],
      ]),
      stroke('Hilfslinie', 2400, 200, 2400, 700),
      words('0', 'FENLARK TOURER LHD', 0, 1650, 60),
      ...more,
    ],
  });
}
