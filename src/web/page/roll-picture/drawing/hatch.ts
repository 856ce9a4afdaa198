/** What a tile is filled with: lines (x0, y0, x1, y1) or dots (x, y), in shares of its side. */
interface Motif {
  readonly lines?: readonly (readonly [number, number, number, number])[];
  readonly dots?: readonly (readonly [number, number])[];
}

const rising: Motif['lines'] = [
  [-0.5, 0.5, 0.5, -0.5],
  [-0.5, 1.5, 1.5, -0.5],
  [0.5, 1.5, 1.5, 0.5],
];
const falling: Motif['lines'] = [
  [-0.5, 0.5, 0.5, 1.5],
  [-0.5, -0.5, 1.5, 1.5],
  [0.5, -0.5, 1.5, 0.5],
];
const level: Motif['lines'] = [[0, 0.5, 1, 0.5]];
const upright: Motif['lines'] = [[0.5, 0, 0.5, 1]];

/**
 * The motifs can be told apart in black and white: nothing, lines in several directions, dots, and
 * crossed lines.
 */
const motifs: readonly Motif[] = [
  {},
  { lines: rising },
  {
    dots: [
      [0.25, 0.25],
      [0.75, 0.75],
    ],
  },
  { lines: falling },
  { lines: level },
  { lines: upright },
  { lines: [...rising, ...falling] },
  { lines: [...level, ...upright] },
];

/** The number of the motif of crossed lines, for defects. */
export const crossedHatch = 6;
/** The number of the motif of rising lines, for what must not be used. */
export const barredHatch = 1;

/** Patterns to fill with, one for each motif; null where the motif is empty. */
export type Hatches = readonly (CanvasPattern | null)[];

/**
 * Makes the hatches in a colour. `side` is the side of a tile and `weight` the weight of its lines, in
 * pixels of the canvas.
 */
export function hatchesIn(colour: string, side: number, weight: number): Hatches {
  return motifs.map((motif) => tileOf(motif, colour, Math.round(side), weight));
}

/**
 * The number of the hatch of an order. Where there are more orders than hatches, they begin again.
 */
export function hatchNumber(orders: readonly string[], order: string): number {
  return Math.max(0, orders.indexOf(order)) % motifs.length;
}

function tileOf(
  { lines = [], dots = [] }: Motif,
  colour: string,
  side: number,
  weight: number,
): CanvasPattern | null {
  if (lines.length + dots.length === 0) return null;
  const tile = document.createElement('canvas');
  tile.width = side;
  tile.height = side;
  const ctx = tile.getContext('2d')!;
  ctx.strokeStyle = colour;
  ctx.fillStyle = colour;
  ctx.lineWidth = weight;
  ctx.beginPath();
  for (const [x0, y0, x1, y1] of lines) {
    ctx.moveTo(x0 * side, y0 * side);
    ctx.lineTo(x1 * side, y1 * side);
  }
  ctx.stroke();
  ctx.beginPath();
  for (const [x, y] of dots) ctx.rect(x * side - weight, y * side - weight, 2 * weight, 2 * weight);
  ctx.fill();
  return ctx.createPattern(tile, 'repeat');
}
