import * as fc from 'fast-check';
import { areaOf, counterClockwise } from '../../src/geometry/paths/area.ts';
import { boxOfPath, circle, pathOf, polyline, segmentsOf } from '../../src/geometry/paths/path.ts';
import { selfCrossings } from '../../src/geometry/relations/crossings.ts';
import type { Path } from '../../src/geometry/paths/path.ts';
import type { Point } from '../../src/geometry/paths/point.ts';
import { leftOf, plus, times } from '../../src/geometry/paths/point.ts';
import { pointAt, tangentAt } from '../../src/geometry/paths/segment.ts';
import { rotation, transformPath } from '../../src/geometry/paths/transform.ts';
import type { Edge, Notch, Part } from '../../src/handing/part.ts';
import type { Cutter } from '../../src/knife/cutter.ts';
import { readCutter } from '../../src/knife/cutter.ts';
import type { Lay, LayRules, Placement } from '../../src/lay/lay.ts';
import { allowedRotations } from '../../src/lay/lay.ts';
import { knifePath } from '../../src/knife/knife-path.ts';
import type { KnifePath } from '../../src/knife/moves.ts';
import { cuttingOrder } from '../../src/knife/order/order.ts';

/** The profiles of the product: they must work as they stand. */
export const longBay = readCutter('shared', 'long-bay').cutter;
export const smallTable = readCutter('shared', 'small-table').cutter;
export const conveyorBed = readCutter('shared', 'conveyor-bed').cutter;

/** mm of every material of these tests. */
export const thickness = 8;

/** The way of the knife over a whole lay. */
export function knifeOver(lay: Lay, parts: readonly Part[], cutter: Cutter): KnifePath {
  return knifePath(cuttingOrder(lay, parts, cutter), cutter, thickness);
}

export function point(x: number, y: number): Point {
  return { x, y };
}

export function rectangle(width: number, height: number, x = 0, y = 0): Path {
  const corners = [
    point(x, y),
    point(x + width, y),
    point(x + width, y + height),
    point(x, y + height),
  ];
  return polyline(corners, true);
}

/** Corners rounded by quarter arcs, each tangent to both sides. */
export function roundedRectangle(width: number, height: number, r: number, x = 0, y = 0): Path {
  const quarter = Math.tan(Math.PI / 8);
  const at = (px: number, py: number, bulge: number) => ({ x: x + px, y: y + py, bulge });
  return {
    closed: true,
    vertices: [
      at(r, 0, 0),
      at(width - r, 0, quarter),
      at(width, r, 0),
      at(width, height - r, quarter),
      at(width - r, height, 0),
      at(r, height, quarter),
      at(0, height - r, 0),
      at(0, r, quarter),
    ],
  };
}

/** Each side of the outline as an edge; `shown` says which are on show, all where left out. */
export function edgesOf(outline: Path, shown: (side: number) => boolean = () => true): Edge[] {
  return segmentsOf(outline).map((segment, side) => ({
    kind: shown(side) ? 'bound' : 'tuck',
    name: null,
    path: pathOf([segment], false),
    onShow: shown(side),
  }));
}

/** `label` is `<name>.<set>.<order>`, or a name alone where no set matters. */
export function part(label: string, cut: Path, more: Partial<Part> = {}): Part {
  const [name = label] = label.split('.');
  return {
    label,
    name,
    piece: name,
    kind: 'piece',
    side: null,
    hand: 'RHD',
    order: 'A1',
    set: 1,
    material: 'loop',
    net: cut,
    cut,
    inner: [],
    notches: [],
    marks: [],
    edges: edgesOf(cut),
    pileDeg: 0,
    ...more,
  };
}

const roll = { width: 2000, selvedge: 25, startMargin: 20, length: Infinity };

export function layOf(
  parts: readonly Part[],
  placements: readonly Placement[],
  rules: Partial<LayRules> = {},
): Lay {
  const byLabel = new Map(parts.map((one) => [one.label, one]));
  const ends = placements.map((placement) => {
    const { cut } = byLabel.get(placement.label)!;
    return boxOfPath(transformPath(rotation(placement.rotation), cut)).maxX + placement.x;
  });
  const length = Math.max(0, ...ends);
  const area = parts.reduce(
    (sum, { cut, inner }) =>
      sum + areaOf(cut) - inner.reduce((out, { path }) => out + areaOf(path), 0),
    0,
  );
  return {
    material: 'loop',
    roll,
    rules: { turns: 'one-way', gap: 5, biteLength: Infinity, ...rules },
    placements,
    length,
    density: area / (length * (roll.width - 2 * roll.selvedge)),
  };
}

/** Parts one after another along the roll, none over a bite line: no lay worth cutting, but a right one. */
export function laidInARow(
  parts: readonly Part[],
  cutter: Cutter,
  rules: Partial<LayRules> = {},
): Lay {
  const biteLength = cutter.bed.length;
  let x = roll.startMargin;
  const placements = parts.map((one): Placement => {
    const turn = allowedRotations(one, rules.turns ?? 'one-way')[0]!;
    const box = boxOfPath(transformPath(rotation(turn), one.cut));
    const width = box.maxX - box.minX;
    const line = (Math.floor(x / biteLength) + 1) * biteLength;
    if (x + width > line) x = line;
    const placement = { label: one.label, x: x - box.minX, y: 30 - box.minY, rotation: turn };
    x += width + 8;
    return placement;
  });
  return layOf(parts, placements, { biteLength, ...rules });
}

/** A slit of 6 mm inwards from the middle of a side of a counter-clockwise outline. */
export function notchOn(outline: Path, side: number): Notch {
  const segment = segmentsOf(outline)[side]!;
  const from = pointAt(segment, 0.5);
  return { from, to: plus(from, times(leftOf(tangentAt(segment, 0.5)), 6)) };
}

/** Spread over the range as a length or an angle is; fc.double spreads over exponents, mostly near 0. */
export function evenly(min: number, max: number): fc.Arbitrary<number> {
  return fc.integer({ min: 0, max: 2 ** 30 }).map((share) => min + ((max - min) * share) / 2 ** 30);
}

/** An outline of straight sides and arcs round the origin, 120 to 300 mm from it, that does not cross itself. */
const outline: fc.Arbitrary<Path> = fc
  .tuple(
    fc.array(fc.tuple(evenly(0.7, 1), fc.constantFrom(0, 0, 0.12, -0.12, 0.2)), {
      minLength: 4,
      maxLength: 8,
    }),
    evenly(170, 300),
    evenly(0, 6),
  )
  .map(([corners, size, turn]) =>
    counterClockwise({
      closed: true,
      vertices: corners.map(([share, bulge], i) => {
        const angle = turn + (2 * Math.PI * i) / corners.length;
        return { x: size * share * Math.cos(angle), y: size * share * Math.sin(angle), bulge };
      }),
    }),
  )
  .filter((path) => selfCrossings(path).length === 0);

/** Round, cornered or rounded, within 60 mm of the origin; some too tight for any knife. */
const inner: fc.Arbitrary<Path> = fc.oneof(
  evenly(2, 50).map((r) => circle(point(0, 0), r)),
  fc.constant(rectangle(60, 40, -30, -20)),
  evenly(2, 18).map((r) => roundedRectangle(60, 40, r, -30, -20)),
);

const oneOf: fc.Arbitrary<Part> = fc
  .record({
    cut: outline,
    inner: fc.option(inner, { nil: undefined }),
    notched: fc.boolean(),
    shown: fc.integer({ min: 0, max: 255 }),
    pileDeg: fc.constantFrom(0, 90, 180, 33.3),
  })
  .map(({ cut, inner: hole, notched, shown, pileDeg }) =>
    part('', cut, {
      inner: hole === undefined ? [] : [{ role: 'CUTOUT', path: hole }],
      notches: notched ? [notchOn(cut, 0), notchOn(cut, 2)] : [],
      edges: edgesOf(cut, (side) => (shown & (1 << side)) !== 0),
      pileDeg,
    }),
  );

/** Parts such as a set has, labelled in order. */
export const somePartsArbitrary: fc.Arbitrary<Part[]> = fc
  .array(oneOf, { minLength: 1, maxLength: 8 })
  .map((parts) =>
    parts.map((one, i) => ({ ...one, label: `p${i}.1.A1`, name: `p${i}`, piece: `p${i}` })),
  );
