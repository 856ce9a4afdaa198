import { pathData } from '../svg/svg.ts';
import type { Entry } from '../svg/legend.ts';
import type { Path } from '../../geometry/paths/path.ts';
import { polyline } from '../../geometry/paths/path.ts';
import type { EdgeKind } from '../../pattern/words.ts';
import { edgeKinds } from '../../pattern/words.ts';
import { edgeWeights } from './edge-weights.ts';

/** Draws paths in one line, with a weight and dashes in mm on paper. */
export function drawStroke(paths: readonly Path[], weight: number, dashes?: string): string {
  if (paths.length === 0) return '';
  const dashed = dashes === undefined ? '' : ` stroke-dasharray="${dashes}"`;
  return `<path d="${paths.map(pathData).join('')}" fill="none" stroke="#1b1b1b" stroke-width="${weight}"${dashed}/>`;
}

/** Draws edges of one kind, with the stroke of that kind. */
export function drawEdgeStroke(paths: readonly Path[], kind: EdgeKind): string {
  const { weight, dashes } = edgeWeights[kind];
  return drawStroke(paths, weight, dashes);
}

/** The kinds of edge for a legend, each with its stroke. */
export function edgeEntries(words: Readonly<Record<EdgeKind, string>>): Entry[] {
  const sample = polyline(
    [
      { x: 0, y: -0.9 },
      { x: 6, y: -0.9 },
    ],
    false,
  );
  return edgeKinds.map((kind) => ({ mark: drawEdgeStroke([sample], kind), words: words[kind] }));
}
