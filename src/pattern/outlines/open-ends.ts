import { decimal } from '../../base/numbers.ts';
import type { Path } from '../../geometry/paths/path.ts';
import type { Point } from '../../geometry/paths/point.ts';
import { distance } from '../../geometry/paths/point.ts';
import { samePoint } from '../../geometry/paths/tolerance.ts';

/** A place where lines that should close do not meet: an end, the one it should meet, and how far that is, mm. */
export interface OpenGap<T> {
  readonly of: T;
  readonly at: Point;
  readonly to: Point;
  readonly size: number;
}

/** What keeps an outline open, in words: how wide a gap is and where it ends, or that too many lines meet. */
export function openWords({ to, size }: Pick<OpenGap<unknown>, 'to' | 'size'>): string {
  return size <= samePoint
    ? 'more than two lines end here, and which of them belong together is not clear'
    : `a gap of ${decimal(size, 2)} mm, here and at ${decimal(to.x, 1)}, ${decimal(to.y, 1)}`;
}

/** With more open lines than this, each is only held against itself. */
const mostPaired = 150;

/**
 * The gaps between open lines that should make closed ones: each end with the nearest that is still free,
 * the narrowest gaps first. One open line has one gap, between its own ends.
 */
export function openGaps<T extends { readonly path: Path }>(lines: readonly T[]): OpenGap<T>[] {
  if (lines.length > mostPaired) return lines.flatMap((line) => openGaps([line]));
  const ends = lines.flatMap((of) =>
    [of.path.vertices[0]!, of.path.vertices.at(-1)!].map(({ x, y }) => ({ of, at: { x, y } })),
  );
  const pairs = ends
    .flatMap((one, i) =>
      ends.slice(i + 1).map((other) => ({ one, other, size: distance(one.at, other.at) })),
    )
    .sort((a, b) => a.size - b.size);
  const taken = new Set<object>();
  return pairs.flatMap(({ one, other, size }): OpenGap<T>[] => {
    if (taken.has(one) || taken.has(other)) return [];
    taken.add(one).add(other);
    return [{ of: one.of, at: one.at, to: other.at, size }];
  });
}
