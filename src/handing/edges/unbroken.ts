import type { Path } from '../../geometry/paths/path.ts';
import { pathOf, segmentsOf } from '../../geometry/paths/path.ts';
import type { EdgeKind } from '../../pattern/words.ts';
import type { Edge } from '../part.ts';

/**
 * The unbroken stretches of one kind of edge round an outline: neighbouring edges of that kind are
 * joined. They are open paths in the direction of the outline, or one closed path if the whole outline is
 * of that kind. `edges` must be the whole outline in order.
 */
export function unbrokenEdges(edges: readonly Edge[], kind: EdgeKind): Path[] {
  const breaks = edges.findIndex((edge) => edge.kind !== kind);
  if (breaks === -1) return edges.length === 0 ? [] : [joined(edges, true)];
  const fromBreak = [...edges.slice(breaks), ...edges.slice(0, breaks)];
  const stretches: Edge[][] = [];
  let before: Edge | null = null;
  for (const edge of fromBreak) {
    if (edge.kind === kind) {
      if (before?.kind === kind) stretches.at(-1)!.push(edge);
      else stretches.push([edge]);
    }
    before = edge;
  }
  return stretches.map((stretch) => joined(stretch, false));
}

function joined(edges: readonly Edge[], closed: boolean): Path {
  return pathOf(
    edges.flatMap(({ path }) => segmentsOf(path)),
    closed,
  );
}
