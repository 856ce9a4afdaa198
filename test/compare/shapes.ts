import type { Path } from '../../src/geometry/paths/path.ts';
import { pathOf, polyline, segmentsOf, startAt } from '../../src/geometry/paths/path.ts';
import { partOfSegment } from '../../src/geometry/paths/segment.ts';
import type { Random } from '../support/random.ts';

/** An outline that no mirror and no turn lays on itself, 300 to 500 mm across; by seed. */
export function handedOutline({ below }: Random): Path {
  const jitter = (): number => below(40);
  const [x, y] = [below(3000), below(1500)];
  const corners = [
    [0, 0],
    [300 + jitter(), 10],
    [330 + jitter(), 160],
    [240, 210 + jitter()],
    [230, 320 + jitter()],
    [20, 250 + jitter()],
  ];
  const path = polyline(
    corners.map(([dx, dy]) => ({ x: x + dx!, y: y + dy! })),
    true,
  );
  // One side bulges, so that arcs are in it too.
  return { ...path, vertices: path.vertices.map((v, i) => (i === 1 ? { ...v, bulge: 0.15 } : v)) };
}

/** The same curve begun elsewhere, and one of its segments in two pieces. */
export function drawnOtherwise(path: Path, { below }: Random): Path {
  const segments = segmentsOf(path);
  const k = below(segments.length);
  const t = 0.2 + below(60) / 100;
  const split = segments.flatMap((segment, i) =>
    i === k ? [partOfSegment(segment, 0, t), partOfSegment(segment, t, 1)] : [segment],
  );
  const again = pathOf(split, path.closed);
  if (!path.closed) return again;
  return startAt(again, { segment: below(split.length), t: 0 });
}
