import type { Block, Entity, PointMark } from '../../drawing/drawing.ts';
import { pathEntity, textEntity } from '../../drawing/entity-of.ts';
import { writeR12 } from '../../drawing/writing/write-r12.ts';
import { headingDeg, headingOf, normalDeg } from '../../geometry/paths/angle.ts';
import { centreOf } from '../../geometry/paths/box.ts';
import { boxOfPath, polyline, segmentsOf } from '../../geometry/paths/path.ts';
import { flatten } from '../../geometry/paths/flatten.ts';
import type { Path } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { distance, minus, plus, times } from '../../geometry/paths/point.ts';
import { sameCurve } from '../../geometry/measuring/same-curve.ts';
import { blockNames } from '../../pattern/write-set.ts';
import type { InnerContour, Mark, Notch, Part } from '../part.ts';

/**
 * Parts as ASTM D6673 asks for them, for systems that read nothing else: an R12 drawing in mm with a
 * block for each part. (The standard was withdrawn in 2019; layer numbers and the words of texts are from
 * its preview and public guides.) It has no arcs: lines go through points, with corners on layer 2 and
 * points of curves on layer 3.
 */

/** How far the straight pieces of a line may be from its curve, mm. */
export const numberedChordError = 0.01;

const textHeight = 6;
const pileLength = 100;
/** A round hole up to this diameter, mm, is written as a drill hole. */
const largestDrill = 50;

const layers: readonly (readonly [name: string, colour: number])[] = [
  ['1', 7],
  ['2', 3],
  ['3', 4],
  ['4', 2],
  ['7', 52],
  ['8', 8],
  ['11', 5],
  ['13', 30],
  ['14', 150],
];

/**
 * The drawing of parts, each in its own frame. Layers: 1 the line to cut, with allowances; 14 the net
 * line if that differs, and stitch lines; 4 notches with depth and angle; 7 the pile; 8 folds, pads and
 * marks; 11 cutouts; 13 drill holes with their diameter.
 */
export function numberedDrawing(parts: readonly Part[], style: string): string {
  const names = blockNames(parts.map(({ name }) => name));
  const blocks = parts.map((part): Block => {
    return { name: names.get(part.name)!, entities: partEntities(part) };
  });
  const head = [`Style Name: ${style}`, 'Units: METRIC'];
  return writeR12({
    layers: layers.map(([name, colour]) => ({ name, colour })),
    blocks,
    inserts: blocks.map(({ name }) => ({ block: name, layer: '1', at: { x: 0, y: 0 } })),
    entities: head.map((text, i) => {
      return textEntity('1', text, { x: 0, y: -2 * textHeight * (i + 1) }, textHeight);
    }),
    exact: true,
  });
}

function partEntities(part: Part): Entity[] {
  const isAsCut = sameCurve(part.net, part.cut, 1e-6);
  return [
    ...boundary('1', part.cut),
    ...(isAsCut ? [] : [straight('14', part.net)]),
    ...part.inner.flatMap(innerEntities),
    ...part.notches.map(notchEntity),
    ...part.marks.map(markEntity),
    ...pileEntities(part),
    ...labelEntities(part),
  ];
}

/** A line, and its corners and points of curves as POINTs, as readers of that standard expect them. */
function boundary(layer: string, path: Path): Entity[] {
  const corners = new Set(path.vertices.map(({ x, y }) => `${x},${y}`));
  const points = flatten(path, numberedChordError);
  return [
    pathEntity(layer, polyline(points, path.closed)),
    ...points.map((at): Entity => {
      const isCorner = corners.has(`${at.x},${at.y}`);
      return { kind: 'point', layer: isCorner ? '2' : '3', line: 0, at };
    }),
  ];
}

function straight(layer: string, path: Path): Entity {
  return pathEntity(layer, polyline(flatten(path, numberedChordError), path.closed));
}

function innerEntities({ role, path }: InnerContour): Entity[] {
  const drill = role === 'HOLE' ? circleOf(path) : undefined;
  if (drill === undefined) return boundary('11', path);
  return [marked('13', drill.at, { height: drill.diameter, thickness: 0, deg: null })];
}

/** Centre and diameter of a path, mm, if it is a full circle that is small enough to be drilled. */
function circleOf(path: Path): { at: Point; diameter: number } | undefined {
  const at = centreOf(boxOfPath(path));
  const radius = distance(at, path.vertices[0]!);
  const round = segmentsOf(path).every(
    ({ from, to, bulge }) =>
      bulge > 0 &&
      Math.abs(distance(at, from) - radius) < 1e-6 &&
      Math.abs(Math.sin(2 * Math.atan(bulge)) * radius - distance(from, to) / 2) < 1e-6,
  );
  return round && 2 * radius <= largestDrill ? { at, diameter: 2 * radius } : undefined;
}

function notchEntity({ from, to }: Notch): Entity {
  const deg = normalDeg(headingDeg(minus(to, from)));
  return marked('4', from, { height: distance(from, to), thickness: 0, deg });
}

function markEntity({ role, path }: Mark): Entity {
  if (role === 'DRILL') return pathEntity('13', path);
  const layer = role === 'STITCH' ? '14' : '8';
  return path.vertices.length === 1 ? pathEntity(layer, path) : straight(layer, path);
}

function pileEntities({ pileDeg, net }: Part): Entity[] {
  if (pileDeg === null) return [];
  const middle = centreOf(boxOfPath(net));
  const half = times(headingOf(pileDeg), pileLength / 2);
  return [pathEntity('7', polyline([minus(middle, half), plus(middle, half)], false))];
}

/**
 * The texts of a part. In `Quantity` the number for the right comes before that for the left; a part
 * without a side counts as right.
 */
function labelEntities({ name, side, material, net }: Part): Entity[] {
  const middle = centreOf(boxOfPath(net));
  const lines = [
    `Piece Name: ${name}`,
    `Quantity: ${side === 'left' ? '0,1' : '1,0'}`,
    `Material: ${material}`,
  ];
  return lines.map((text, i) =>
    textEntity('1', text, plus(middle, { x: 0, y: -1.5 * textHeight * i }), textHeight),
  );
}

function marked(layer: string, at: Point, mark: PointMark): Entity {
  return { kind: 'point', layer, line: 0, at, mark };
}
