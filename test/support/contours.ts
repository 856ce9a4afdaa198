import { parsedDxf } from './dxf-parser.ts';

/** Contours of a DXF as dxf-parser reads them, with areas and chords that owe the product nothing. */

interface Vertex {
  readonly x: number;
  readonly y: number;
  readonly bulge?: number;
}

export type Contour = readonly Vertex[];

export interface Outline {
  readonly contour: Contour;
  /** Those that stand before it in the file and after the outline before. */
  readonly inner: readonly Contour[];
}

/** The closed polylines on CUT in the order of the file, each with those on CUT-INNER before it. */
export function outlinesOf(dxf: string): Outline[] {
  const outlines: Outline[] = [];
  let inner: Contour[] = [];
  for (const { type, layer, shape, vertices = [] } of parsedDxf(dxf).entities) {
    if (!/^(LW)?POLYLINE$/.test(type) || shape !== true) continue;
    if (layer === 'CUT-INNER') inner.push(vertices);
    if (layer !== 'CUT') continue;
    outlines.push({ contour: vertices, inner });
    inner = [];
  }
  return outlines;
}

/** Lengths in mm of the slits on NOTCH. */
export function notchLengths(dxf: string): number[] {
  const { entities } = parsedDxf(dxf);
  return entities
    .filter(({ layer }) => layer === 'NOTCH')
    .map(({ vertices = [] }) => chordOf(vertices[0]!, vertices[1]!));
}

/** mm2, counter-clockwise positive: shoelace, and at each bulge its segment, r^2 (a - sin a) / 2 [M]. */
export function contourArea(contour: Contour): number {
  return contour.reduce((sum, from, i) => {
    const to = contour[(i + 1) % contour.length]!;
    const angle = angleOf(from);
    const radius = angle === 0 ? 0 : chordOf(from, to) / (2 * Math.sin(angle / 2));
    return sum + (from.x * to.y - to.x * from.y + radius ** 2 * (angle - Math.sin(angle))) / 2;
  }, 0);
}

/** mm: for an arc its radius times its angle. */
export function contourLength(contour: Contour): number {
  return contour.reduce((sum, from, i) => {
    const chord = chordOf(from, contour[(i + 1) % contour.length]!);
    const angle = angleOf(from);
    return sum + (angle === 0 ? chord : (chord * angle) / (2 * Math.sin(angle / 2)));
  }, 0);
}

/** Points on the contour, thirty-two to an arc. */
export function pointsOn(contour: Contour): [number, number][] {
  return contour.flatMap((from, i) => {
    const to = contour[(i + 1) % contour.length]!;
    const steps = angleOf(from) === 0 ? 1 : 32;
    return Array.from({ length: steps }, (_, k) => pointOnArc(from, to, k / steps));
  });
}

/** The chord to a point at a share of an arc is the whole chord, shrunk and turned about its start. */
function pointOnArc(from: Vertex, to: Vertex, share: number): [number, number] {
  const angle = angleOf(from);
  if (share === 0) return [from.x, from.y];
  const size = Math.sin((angle * share) / 2) / Math.sin(angle / 2);
  const turn = (-angle * (1 - share)) / 2;
  const [dx, dy] = [(to.x - from.x) * size, (to.y - from.y) * size];
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  return [from.x + dx * c - dy * s, from.y + dx * s + dy * c];
}

/** Radians, counter-clockwise positive: bulge = tan(angle / 4) [S]. */
function angleOf({ bulge }: Vertex): number {
  return 4 * Math.atan(bulge ?? 0);
}

function chordOf(from: Vertex, to: Vertex): number {
  return Math.hypot(to.x - from.x, to.y - from.y);
}

/** Whether a point lies inside a contour: even-odd, on chords. */
export function holds(contour: Contour, x: number, y: number): boolean {
  const points = pointsOn(contour);
  return points.reduce((inside, [bx, by], i) => {
    const [ax, ay] = points.at(i - 1)!;
    const crosses = ay > y !== by > y && x < ax + ((y - ay) / (by - ay)) * (bx - ax);
    return crosses ? !inside : inside;
  }, false);
}
