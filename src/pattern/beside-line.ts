import { headingOf } from '../geometry/paths/angle.ts';
import type { Path } from '../geometry/paths/path.ts';
import { segmentsOf } from '../geometry/paths/path.ts';
import type { Point } from '../geometry/paths/point.ts';
import { cross, distance, minus } from '../geometry/paths/point.ts';
import type { DrawnLine } from './feature.ts';
import { forwardDeg } from './pile.ts';
import type { Side } from './words.ts';

/** A piece may lie over a centreline by so many mm and still count as lying beside it. */
export const besideTolerance = 1;

/** How an outline lies to a centreline, looking forward along it. */
interface BesideLine {
  /** null: it lies on both sides. */
  readonly side: Side | null;
  /** How near it comes, mm. */
  readonly off: number;
  /** The longest straight edge of it that lies on the line, mm; 0: none does. */
  readonly along: number;
}

/** How an outline lies to a centreline that may be drawn up or down the sheet. */
export function besideLine(outline: Path, line: DrawnLine): BesideLine {
  const forward = headingOf(forwardDeg(line));
  const offOf = (at: Point): number => cross(forward, minus(at, line.from));
  const offs = outline.vertices.map(offOf);
  const [least, most] = [Math.min(...offs), Math.max(...offs)];
  const along = segmentsOf(outline)
    .filter(
      ({ from, to, bulge }) =>
        bulge === 0 && [from, to].every((end) => Math.abs(offOf(end)) <= besideTolerance),
    )
    .map(({ from, to }) => distance(from, to));
  const longest = Math.max(0, ...along);
  if (least >= -besideTolerance) return { side: 'left', off: Math.max(0, least), along: longest };
  if (most <= besideTolerance) return { side: 'right', off: Math.max(0, -most), along: longest };
  return { side: null, off: 0, along: longest };
}
