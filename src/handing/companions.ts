import type { Place } from '../base/findings.ts';
import { centreOf } from '../geometry/paths/box.ts';
import { boxOfPath } from '../geometry/paths/path.ts';
import type { Path } from '../geometry/paths/path.ts';
import type { Materials } from '../pattern/shop/material.ts';
import { materialOf } from '../pattern/shop/material.ts';
import type { Piece } from '../pattern/piece.ts';
import type { Feature } from '../pattern/feature.ts';
import { insetContour } from './edges/allowance.ts';
import type { MakeBase, PartBase } from './base.ts';
import type { Order } from './order.ts';
import type { InnerContour, Part } from './part.ts';

/** Heel pads as parts of their own; on a centre piece the pad's place says which side it is for. */
export function padParts(
  { sheet }: Piece,
  features: readonly Feature[],
  side: Part['side'],
  make: MakeBase,
): Part[] {
  const { pad } = sheet;
  if (pad === undefined) return [];
  return features
    .filter(({ role }) => role === 'PAD')
    .map(({ path }) => {
      const own = side ?? (centreOf(boxOfPath(path)).x < 0 ? 'left' : 'right');
      return plainPart(make('pad', own, pad), path, []);
    });
}

/** The board and the underlay of a piece: its net outline drawn in, with the piece's own cutouts. */
export function boardParts(
  { board, underlay }: Piece['sheet'],
  order: Order,
  carpet: Part,
  materials: Materials,
  make: MakeBase,
  where: Place,
): Part[] {
  const wanted = [
    { kind: 'board', sheet: order.boards ? board : undefined },
    { kind: 'underlay', sheet: order.underlay ? underlay : undefined },
  ] as const;
  return wanted.flatMap(({ kind, sheet }) => {
    if (sheet === undefined) return [];
    const material = materialOf(materials, sheet.material);
    const contour = insetContour(carpet.net, sheet.inset, material, where);
    return [plainPart(make(kind, carpet.side, sheet.material), contour, carpet.inner)];
  });
}

/** A part cut to its net outline, with nothing done to its edges. */
function plainPart(base: PartBase, contour: Path, inner: readonly InnerContour[]): Part {
  return { ...base, net: contour, cut: contour, inner, notches: [], marks: [], edges: [] };
}
