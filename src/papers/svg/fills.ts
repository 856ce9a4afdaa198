import { headingOf } from '../../geometry/paths/angle.ts';
import { flatten } from '../../geometry/paths/flatten.ts';
import type { Path } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { chordError } from '../../geometry/paths/tolerance.ts';
import { mm, pathData } from './svg.ts';

/** A colour with strokes across it, so that it can be told from others in black and white too. */
export interface Fill {
  readonly tint: string;
  /** Directions of the strokes in degrees. */
  readonly strokes: readonly number[];
  readonly dotted?: true;
  /** Colour of the strokes. Left out: a soft grey. */
  readonly ink?: string;
}

const sets: readonly Fill[] = [
  { tint: '#fdf6e3', strokes: [] },
  { tint: '#e3eef9', strokes: [-45] },
  { tint: '#e9f4e2', strokes: [0], dotted: true },
  { tint: '#f9e6e6', strokes: [0] },
  { tint: '#efe6f6', strokes: [-45, 45] },
  { tint: '#e2f3f1', strokes: [90] },
];

/** The fill of the n-th set of a lay. The seventh looks like the first, but labels tell them apart. */
export function setFill(n: number): Fill {
  return sets[n % sets.length]!;
}

/** The fill of areas in which nothing may lie. */
export const barred: Fill = { tint: '#ffffff', strokes: [-45] };

/**
 * Fills what is inside contours (by the even-odd rule; mm on the page), with strokes `spacing` mm apart.
 * Strokes are drawn as lines and not as an SVG pattern, because printers make coarse dots of patterns.
 */
export function drawFill(
  { tint, strokes, dotted, ink = '#9a958c' }: Fill,
  paths: readonly Path[],
  spacing: number,
): string {
  const area = `<path d="${paths.map(pathData).join('')}" fill="${tint}" fill-rule="evenodd"/>`;
  const rings = paths.map((path) => flatten(path, 10 * chordError));
  const lines = strokes.flatMap((deg) => strokesAcross(rings, deg, spacing));
  if (lines.length === 0) return area;
  // A dash of length 0 would be a dot on screens, but an error for the PDF writer.
  const dots = `stroke-width="${mm(spacing / 7)}" stroke-linecap="round" stroke-dasharray="0.01 ${mm(spacing)}"`;
  const style = dotted === true ? dots : `stroke-width="${mm(spacing / 18)}"`;
  return `${area}<path d="${lines.map(lineData).join('')}" stroke="${ink}" ${style}/>`;
}

function lineData([from, to]: readonly [Point, Point]): string {
  return `M${mm(from.x)} ${mm(from.y)}L${mm(to.x)} ${mm(to.y)}`;
}

/**
 * Parallel strokes over what is inside rings, each from edge to edge. They lie on multiples of the
 * spacing, so those of neighbouring areas are in line.
 */
function strokesAcross(
  rings: readonly (readonly Point[])[],
  deg: number,
  spacing: number,
): [Point, Point][] {
  const along = headingOf(deg);
  const crossings = new Map<number, number[]>();
  for (const ring of rings) {
    let a = ring.at(-1)!;
    for (const b of ring) {
      const [from, to] = [a, b].map(({ x, y }) => (y * along.x - x * along.y) / spacing);
      // Each side counts its lower end but not its upper one. So where two sides meet on a stroke, the
      // stroke is crossed once, or twice or not at all.
      for (let k = Math.ceil(Math.min(from!, to!)); k < Math.max(from!, to!); k++) {
        const t = (k - from!) / (to! - from!);
        const at = (a.x + (b.x - a.x) * t) * along.x + (a.y + (b.y - a.y) * t) * along.y;
        crossings.set(k, [...(crossings.get(k) ?? []), at]);
      }
      a = b;
    }
  }
  const point = (k: number, at: number): Point => ({
    x: at * along.x - k * spacing * along.y,
    y: at * along.y + k * spacing * along.x,
  });
  return [...crossings].flatMap(([k, found]) => {
    const sorted = found.sort((a, b) => a - b);
    return Array.from({ length: sorted.length / 2 }, (_, i): [Point, Point] => [
      point(k, sorted[2 * i]!),
      point(k, sorted[2 * i + 1]!),
    ]);
  });
}
