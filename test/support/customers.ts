/**
 * Three drawings as three customers draw them who know nothing of this product: each with what a person who
 * measures the drawing by hand finds on it. All of it is invented.
 */
import type { Tag } from '../drawing/dxf.ts';
import { arc, block, dxf, inMm, insert, line, lwpolyline, onLayer, text } from '../drawing/dxf.ts';

type XY = readonly [number, number];

function chain(...points: XY[]): Tag[][] {
  return points.slice(1).map(([x, y], i) => onLayer(line(points[i]![0], points[i]![1], x, y), '0'));
}

function ring(layer: string, ...points: XY[]): Tag[] {
  return onLayer(
    lwpolyline(
      points.map(([x, y]) => [x, y, 0]),
      true,
    ),
    layer,
  );
}

function circle(layer: string, x: number, y: number, radius: number): Tag[] {
  return [
    [0, 'CIRCLE'],
    [8, layer],
    [10, x],
    [20, y],
    [40, radius],
  ];
}

/** Loose lines on layer 0, and no word of the units: mm. Notches begin a hair outside or short of the edge. */
export const looseLines = dxf({
  entities: [
    ...chain([0, 0], [520, 0], [560, 180], [560, 640]),
    onLayer(arc([480, 640], 80, 0, 90), '0'),
    ...chain([480, 720], [60, 720], [0, 640], [0, 0]),
    circle('0', 120, 90, 12),
    circle('0', 440, 90, 12),
    ...chain([560.003, 300], [554, 300]),
    ...chain([560.4, 420], [554, 420]),
    onLayer(text('FLOOR RH', 150, 500, 20), '0'),
    onLayer(text('2 OFF HANDED', 150, 460, 20), '0'),
    ...chain([800, 0], [1100, 0], [1060, 600], [840, 600], [800, 0]),
    ...chain([950, -60], [950, 660]),
    onLayer(text('TUNNEL', 860, 300, 20), '0'),
  ],
});

/** Closed polylines, everything on one layer, in mm. */
export const oneLayer = dxf({
  header: inMm,
  entities: [
    ring('CARPET', [-600, 0], [600, 0], [600, 500], [520, 620], [-520, 620], [-600, 500]),
    circle('CARPET', -250, 150, 10),
    circle('CARPET', 250, 150, 10),
    onLayer(line(-300, 0, -300, 7), 'CARPET'),
    onLayer(line(300, 0, 300, 7), 'CARPET'),
    onLayer(line(0, -80, 0, 700), 'CARPET'),
    onLayer(text('CAB MAT', -80, 300, 18), 'CARPET'),
    ring('CARPET', [900, 0], [1150, 0], [1150, 380], [900, 300]),
    circle('CARPET', 1000, 250, 6),
    onLayer(line(900, 80, 1150, 80), 'CARPET'),
    onLayer(text('KICK PANEL RH', 910, 150, 18), 'CARPET'),
    onLayer(text('1 EACH SIDE', 910, 110, 18), 'CARPET'),
  ],
});

function attribute(tag: string, value: string, x: number, y: number): Tag[] {
  return [
    [0, 'ATTRIB'],
    [8, 'ANNOT'],
    [10, x],
    [20, y],
    [40, 0.6],
    [1, value],
    [2, tag],
  ];
}

function withAttributes(name: string, x: number, y: number, quantity: string): Tag[] {
  return insert(name, x, y, [
    [66, 1],
    ...attribute('QTY', quantity, x + 1, y + 1),
    ...attribute('MATERIAL', 'carpet', x + 1, y + 2),
    [0, 'SEQEND'],
  ]);
}

/** Blocks with attributes, in inches. */
export const blocksInInches = dxf({
  header: [
    [9, '$INSUNITS'],
    [70, 1],
  ],
  blocks: [
    block('BOOT_FLOOR', [
      ring('CUT', [0, 0], [28, 0], [28, 20], [24, 24], [4, 24], [0, 20]),
      circle('INTERNAL', 14, 12, 2),
      onLayer(line(14, 0, 14, 0.3), 'INTERNAL'),
    ]),
    block('STEP', [
      ring('CUT', [0, 0], [12, 0], [12, 4], [0, 4]),
      onLayer(text('PAIR', 3, 2, 0.6), 'ANNOT'),
    ]),
  ],
  entities: [withAttributes('BOOT_FLOOR', 0, 0, '1'), withAttributes('STEP', 50, 0, '2')],
});
