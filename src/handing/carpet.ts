import type { Place } from '../base/findings.ts';
import type { Path } from '../geometry/paths/path.ts';
import type { EdgeStretch } from '../pattern/edges.ts';
import type { Material } from '../pattern/shop/material.ts';
import type { Piece } from '../pattern/piece.ts';
import type { Feature } from '../pattern/feature.ts';
import type { PieceEntry } from '../pattern/set-file.ts';
import type { EdgeKind } from '../pattern/words.ts';
import { cutContour } from './edges/allowance.ts';
import type { MakeBase } from './base.ts';
import type { EdgeLines } from './edges/notches.ts';
import { drillMark, edgeLines, slitOf } from './edges/notches.ts';
import type { Edge, InnerContour, Mark, Part } from './part.ts';

/**
 * The carpet of a piece as a part: its outline with allowances, what is cut inside it, and what is marked
 * on it.
 */
export function carpetPart(
  piece: Piece,
  net: Path,
  features: readonly Feature[],
  stretches: readonly EdgeStretch[],
  material: Material,
  make: MakeBase,
  side: Part['side'],
  where: Place,
): Part {
  const cut = cutContour(net, stretches, material, where);
  const depth = piece.entry.notch ?? material.notchDepth;
  let known: EdgeLines | undefined;
  // Measuring costs as much as all the rest of a plain part, so it is only done if a notch or drill mark
  // stands on the edge.
  const lines = (): EdgeLines => (known ??= edgeLines(net, cut, stretches));
  return {
    ...make('piece', side, material.name),
    net,
    cut,
    inner: features.flatMap(innerOf),
    notches: features
      .filter(({ role }) => role === 'NOTCH')
      .map(({ path }) => slitOf(path, lines(), depth)),
    marks: features.flatMap((feature) => markOf(feature, lines)),
    edges: stretches.map((stretch) => edgeOf(stretch, piece)),
  };
}

function isDrillMark({ role, path }: Feature): boolean {
  return role === 'HOLE' && path.vertices.length === 1;
}

function innerOf(feature: Feature): InnerContour[] {
  const { role, path } = feature;
  return (role === 'CUTOUT' || role === 'HOLE') && !isDrillMark(feature) ? [{ role, path }] : [];
}

function markOf(feature: Feature, lines: () => EdgeLines): Mark[] {
  const { role, path } = feature;
  const name = feature.name === null ? {} : { name: feature.name };
  if (isDrillMark(feature)) return [{ role: 'DRILL', path: drillMark(path, lines()), ...name }];
  return role === 'FOLD' || role === 'STITCH' || role === 'MARK' || role === 'PAD'
    ? [{ role, path, ...name }]
    : [];
}

/**
 * An edge of the part. A bound edge is on show; so is a raw one, unless the set file says what covers it.
 */
function edgeOf({ kind, name, path }: EdgeStretch, { entry }: Piece): Edge {
  const hiddenBy = hiderOf(entry, kind, name);
  const onShow = kind === 'bound' || (kind === 'raw' && hiddenBy === undefined);
  return { kind, name, path, onShow, ...(hiddenBy === undefined ? {} : { hiddenBy }) };
}

/**
 * What covers a raw edge, or what a tuck edge goes under, as the set file says it for all edges of the
 * kind or for one by its name.
 */
export function hiderOf(
  { covered, tucked }: PieceEntry,
  kind: EdgeKind,
  edge: string | null,
): string | undefined {
  const said = kind === 'raw' ? covered : kind === 'tuck' ? tucked : undefined;
  if (typeof said !== 'object') return said;
  return edge === null ? undefined : said[edge];
}
