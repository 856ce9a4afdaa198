import type { Path } from './path.ts';
import { segmentsOf } from './path.ts';
import type { Point } from './point.ts';
import type { Segment } from './segment.ts';
import { arcOf } from './segment.ts';
import { isCounterClockwise } from './area.ts';

/**
 * Where the straight pieces may lie. `on`: their ends lie on the curve. `outside`: the polygon contains
 * the whole shape that a closed path bounds. `inside`: that shape contains the whole polygon.
 */
export type ChordSide = 'on' | 'outside' | 'inside';

/**
 * The path as points of a polygon that is nowhere further than `chordError` mm from the curve. Closed
 * paths do not repeat the first point. An open path has no sides, so it is always flattened as `on`.
 *
 * An arc of radius R becomes chords, or tangents where the polygon must lie on the arc's outer side. With
 * the error e a chord may span 2 acos(1 - e / R), and a tangent 2 acos(R / (R + e)).
 */
export function flatten(path: Path, chordError: number, side: ChordSide = 'on'): Point[] {
  const outward = (side === 'outside') === isCounterClockwise(path);
  const points: Point[] = [];
  for (const segment of segmentsOf(path)) {
    points.push(segment.from);
    if (segment.bulge === 0) continue;
    // Tangents lie outside the circle of the arc. They are right where the polygon must lie on that side:
    // for `outside` at the arcs that turn the way the whole path does, for `inside` at the others.
    const tangents = path.closed && side !== 'on' && segment.bulge > 0 === outward;
    points.push(
      ...(tangents ? tangentPoints(segment, chordError) : chordPoints(segment, chordError)),
    );
  }
  const last = path.vertices.at(-1);
  if (!path.closed && last !== undefined) points.push(last);
  return points.map(({ x, y }) => ({ x, y }));
}

function chordPoints(segment: Segment, chordError: number): Point[] {
  const { centre, radius, start, sweep } = arcOf(segment);
  const step = 2 * Math.acos(Math.max(0, 1 - chordError / radius));
  const count = Math.ceil(Math.abs(sweep) / step - 1e-9);
  return Array.from({ length: Math.max(0, count - 1) }, (_, i) =>
    onCircle(centre, radius, start + (sweep * (i + 1)) / count),
  );
}

function tangentPoints(segment: Segment, chordError: number): Point[] {
  const { centre, radius, start, sweep } = arcOf(segment);
  const widest = Math.min(2 * Math.acos(radius / (radius + chordError)), Math.PI / 2);
  const count = Math.max(1, Math.ceil(Math.abs(sweep) / widest));
  const step = sweep / count;
  const reach = radius / Math.cos(step / 2);
  return Array.from({ length: count }, (_, i) => onCircle(centre, reach, start + step * (i + 0.5)));
}

function onCircle(centre: Point, radius: number, angle: number): Point {
  return { x: centre.x + radius * Math.cos(angle), y: centre.y + radius * Math.sin(angle) };
}
