import { lengthAt } from '../geometry/stretch.ts';
import { nearestOnPath } from '../geometry/nearest.ts';
import type { Path } from '../geometry/path.ts';
import { segmentsOf } from '../geometry/path.ts';
import type { Point } from '../geometry/point.ts';
import { distance, minus, plus, times } from '../geometry/point.ts';
import { tangentAt } from '../geometry/segment.ts';
import type { Stretch } from '../pattern/edges.ts';
import type { Material } from '../pattern/material.ts';
import type { EdgeKind } from '../pattern/words.ts';
import type { Notch } from './part.ts';

/**
 * The slit of a notch drawn on the net outline, moved out to the cut line: straight in from the cut
 * edge, by the material's depth where a point is drawn, to the drawn inner end where a line is.
 */
export function notchOf(
  drawn: Path,
  net: Path,
  stretches: readonly Stretch[],
  material: Material,
): Notch {
  const ends = [drawn.vertices[0]!, drawn.vertices.at(-1)!];
  const [outer, inner] = ends.sort(
    (a, b) => nearestOnPath(net, a).distance - nearestOnPath(net, b).distance,
  );
  const { station, point } = nearestOnPath(net, outer!);
  const tangent = tangentAt(segmentsOf(net)[station.segment]!, station.t);
  const outward = { x: tangent.y, y: -tangent.x };
  const allowance = material.allowances[kindAt(stretches, lengthAt(net, station))];
  const from = plus(point, times(outward, allowance));
  const isPoint = distance(outer!, inner!) === 0;
  return { from, to: isPoint ? minus(from, times(outward, material.notchDepth)) : bare(inner!) };
}

function bare({ x, y }: Point): Point {
  return { x, y };
}

/** What happens to the outline at a length (mm) from its start. */
function kindAt(stretches: readonly Stretch[], at: number): EdgeKind {
  const found = stretches.find(({ from, to }) =>
    from < to ? from <= at && at < to : at >= from || at < to,
  );
  return (found ?? stretches[0]!).kind;
}
