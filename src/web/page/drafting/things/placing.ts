import type { Role } from '../../../../pattern/layers.ts';
import type { Spot } from '../../../../drafting/edge-view.ts';
import type { SentEdit } from '../../server/calls.ts';

/** What can be added to a piece. */
export type AddedKind =
  | 'hole'
  | 'drill'
  | 'round'
  | 'oblong'
  | 'pad'
  | 'notch'
  | 'fold'
  | 'stitch'
  | 'mark'
  | 'note'
  | 'centreline';

/** Its figures in mm, and the words of a note; each kind uses some of them. */
export interface AddedFigures {
  readonly diameter: number;
  readonly width: number;
  readonly height: number;
  readonly radius: number;
  readonly words: string;
}

/** Something that is about to be placed, and the places that were given so far. */
export interface Placing {
  readonly kind: AddedKind;
  readonly figures: AddedFigures;
  readonly points: readonly Spot[];
}

const roles: Readonly<Record<AddedKind, Role>> = {
  hole: 'HOLE',
  drill: 'HOLE',
  round: 'CUTOUT',
  oblong: 'CUTOUT',
  pad: 'PAD',
  notch: 'NOTCH',
  fold: 'FOLD',
  stitch: 'STITCH',
  mark: 'MARK',
  note: 'NOTE',
  centreline: 'AXIS',
};

const lines: ReadonlySet<AddedKind> = new Set(['fold', 'stitch', 'mark', 'centreline']);

/** How many places something is given by. */
export function placesNeeded(kind: AddedKind): number {
  return lines.has(kind) ? 2 : 1;
}

type Added = Extract<SentEdit, { kind: 'add' }>;

/** The edit that adds something to a piece where it was placed. A piece has one centreline, which takes the place of another. */
export function additionAt(
  { name, block }: { readonly name: string; readonly block: string },
  { kind, figures, points }: Placing,
): SentEdit {
  if (kind === 'centreline') {
    const [[x0, y0], [x1, y1]] = points as [Spot, Spot];
    return {
      kind: 'axis',
      piece: name,
      line: [
        [x0, y0],
        [x1, y1],
      ],
    };
  }
  return { kind: 'add', block, means: roles[kind], shape: shapeOf(kind, figures, points) };
}

function shapeOf(kind: AddedKind, figures: AddedFigures, points: readonly Spot[]): Added['shape'] {
  const [x, y] = points[0]!;
  const at: [number, number] = [x, y];
  switch (kind) {
    case 'hole':
    case 'round':
      return { kind: 'circle', at, diameter: figures.diameter };
    case 'drill':
    case 'notch':
      return { kind: 'point', at };
    case 'oblong':
    case 'pad':
      return roundedOblong(at, figures);
    case 'fold':
    case 'stitch':
    case 'mark':
    case 'centreline':
      return { kind: 'line', points: points.map(([px, py]) => [px, py]), closed: false };
    case 'note':
      return { kind: 'text', at, text: figures.words };
  }
}

/** The bulge of a quarter of a circle: the tangent of a quarter of its angle. */
const quarter = Math.tan(Math.PI / 8);

/** An oblong about its middle, whose corners are quarters of circles; counter-clockwise from below on the right. */
export function roundedOblong(
  [x, y]: Spot,
  { width, height, radius }: Pick<AddedFigures, 'width' | 'height' | 'radius'>,
): Added['shape'] {
  const [right, up] = [width / 2, height / 2];
  const r = Math.min(radius, right, up);
  const corners: readonly (readonly [Spot, Spot])[] = [
    [
      [right - r, -up],
      [right, -up + r],
    ],
    [
      [right, up - r],
      [right - r, up],
    ],
    [
      [-right + r, up],
      [-right, up - r],
    ],
    [
      [-right, -up + r],
      [-right + r, -up],
    ],
  ];
  const ends = corners.flatMap(([from, to]) =>
    r === 0
      ? [{ at: from, bulge: 0 }]
      : [
          { at: from, bulge: quarter },
          { at: to, bulge: 0 },
        ],
  );
  // Where the corners take up a whole side, its two ends are one point.
  const kept = ends.filter(({ at }, i) => {
    const next = ends[(i + 1) % ends.length]!.at;
    return Math.hypot(next[0] - at[0], next[1] - at[1]) > 1e-9;
  });
  return {
    kind: 'line',
    points: kept.map(({ at: [dx, dy] }) => [x + dx, y + dy]),
    closed: true,
    bulges: kept.map(({ bulge }) => bulge),
  };
}

/** How far from two edges of a box something lies. */
export interface FromEdges {
  readonly across: 'left' | 'right';
  readonly right: number;
  readonly along: 'front' | 'rear';
  readonly up: number;
}

/** A place by its distances from two edges of a box, whose front is up. */
export function placeFromEdges(
  [minX, minY, maxX, maxY]: readonly [number, number, number, number],
  { across, right, along, up }: FromEdges,
): Spot {
  return [
    across === 'left' ? minX + right : maxX - right,
    along === 'rear' ? minY + up : maxY - up,
  ];
}
