import type { Path } from '../../src/geometry/paths/path.ts';
import { polyline } from '../../src/geometry/paths/path.ts';
import type { Order } from '../../src/handing/order.ts';
import type { Binding } from '../../src/pattern/shop/binding.ts';
import type { Follows, Role } from '../../src/pattern/layers.ts';
import type { Material, Materials } from '../../src/pattern/shop/material.ts';
import type { Piece } from '../../src/pattern/piece.ts';
import type { Feature } from '../../src/pattern/feature.ts';
import type { PieceEntry, SetContent } from '../../src/pattern/set-file.ts';
import type { PatternSet } from '../../src/pattern/set.ts';
import type { Hand } from '../../src/pattern/words.ts';

/** An oblong from its lower left to its upper right corner, counter-clockwise. */
export function oblong(x0: number, y0: number, x1: number, y1: number): Path {
  return polyline(
    [
      { x: x0, y: y0 },
      { x: x1, y: y0 },
      { x: x1, y: y1 },
      { x: x0, y: y1 },
    ],
    true,
  );
}

export function line(x0: number, y0: number, x1: number, y1: number): Path {
  return polyline(
    [
      { x: x0, y: y0 },
      { x: x1, y: y1 },
    ],
    false,
  );
}

export function feature(role: Role, path: Path, follows: Follows | null = null): Feature {
  return { role, follows, when: [], name: null, path, line: 1 };
}

export function piece(
  name: string,
  entry: Partial<PieceEntry>,
  outline: Path,
  features: Feature[] = [],
): Piece {
  return {
    name,
    entry: {
      side: 'centre',
      outline: 'body',
      material: 'carpet',
      quantity: 1,
      at: [0, 0],
      edge: 'bound',
      half: false,
      ...entry,
    },
    outline,
    other: null,
    forAll: null,
    features,
    notes: [],
    unknown: [],
    pile: { from: { x: 0, y: 0 }, to: { x: 0, y: -100 } },
    axis:
      (entry.side ?? 'centre') === 'centre' ? { from: { x: 0, y: 0 }, to: { x: 0, y: 100 } } : null,
    where: { file: 'test.dxf', piece: name },
  };
}

/** Goes round every corner. */
export const tape: Binding = {
  name: 'tape',
  kind: 'tape',
  title: 'tape',
  width: 22,
  insideRadius: 0,
  joining: 250,
  tightRadius: 50,
  tightExtra: 0.12,
};

export function patternSet(
  drawn: Hand,
  pieces: readonly Piece[],
  more: Partial<SetContent> = {},
): PatternSet {
  return {
    name: 'test',
    content: {
      title: 'test',
      drawn,
      pieces: Object.fromEntries(pieces.map(({ name, entry }) => [name, entry])),
      ease: 3,
      seams: [],
      ...more,
    },
    uses: new Map(),
    options: new Map(),
    absent: new Set(),
    shapedBy: new Map(),
    pieces,
    binding: tape,
    findings: [],
    materials: new Map(),
    leftOut: [],
    drawnUnits: ['mm'],
    files: [],
    placeOf: () => ({ file: 'set.yaml' }),
  };
}

const carpet: Material = {
  name: 'carpet',
  title: 'carpet',
  kind: 'carpet',
  thickness: 8,
  turns: 'one-way',
  gap: 5,
  roll: { width: 2000, selvedge: 25, startMargin: 0 },
  allowances: { bound: 0, seam: 10, tuck: 30, turned: 25, raw: 0 },
  bridge: 0,
  punch: 0,
  notchDepth: 5,
  mitreLimit: 2,
};

export const materials: Materials = new Map(
  [
    carpet,
    { ...carpet, name: 'rubber', turns: 'any' as const },
    { ...carpet, name: 'board', turns: 'any' as const },
  ].map((material) => [material.name, material]),
);

export function order(hand: Hand, options: Partial<Order> = {}): Order {
  return {
    order: 'A',
    set: 'test',
    hand,
    quantity: 1,
    heelPads: 'driver',
    boards: true,
    underlay: true,
    ...options,
  };
}

function closed(...corners: (readonly [x: number, y: number])[]): Path {
  return polyline(
    corners.map(([x, y]) => ({ x, y })),
    true,
  );
}

/** 300 x 200 with a slot of 40 from above, between two arms. */
export const slotted = closed(
  [0, 0],
  [300, 0],
  [300, 200],
  [170, 200],
  [170, 50],
  [130, 50],
  [130, 200],
  [0, 200],
);

/** 1000 mm across the centreline; the left front corner is cut away. */
export const cornerless = closed(
  [-500, 0],
  [500, 0],
  [500, 300],
  [-200, 300],
  [-200, 100],
  [-500, 100],
);
