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

/**
 * The heel pads of a piece, as parts of their own. On a centre piece the place of the pad decides for
 * which side it is.
 */
export function padParts(
  { entry }: Piece,
  features: readonly Feature[],
  side: Part['side'],
  make: MakeBase,
): Part[] {
  const { pad } = entry;
  if (pad === undefined) return [];
  return features
    .filter(({ role }) => role === 'PAD')
    .map(({ path }) => {
      const own = side ?? (centreOf(boxOfPath(path)).x < 0 ? 'left' : 'right');
      return plainPart(make('pad', own, pad), path, []);
    });
}

/**
 * The board and the underlay of a piece, if the order wants them: its net outline made smaller, with the
 * same cutouts. Refuses an inset that does not fit.
 */
export function boardParts(
  { board, underlay }: Piece['entry'],
  order: Order,
  carpet: Part,
  materials: Materials,
  make: MakeBase,
  where: Place,
): Part[] {
  const wanted = [
    { kind: 'board', companion: order.boards ? board : undefined },
    { kind: 'underlay', companion: order.underlay ? underlay : undefined },
  ] as const;
  return wanted.flatMap(({ kind, companion }) => {
    if (companion === undefined) return [];
    const material = materialOf(materials, companion.material);
    const contour = insetContour(carpet.net, companion.inset, material, where);
    return [plainPart(make(kind, carpet.side, companion.material), contour, carpet.inner)];
  });
}

/** A part that is cut to its net outline. Nothing is done to its edges. */
function plainPart(base: PartBase, contour: Path, inner: readonly InnerContour[]): Part {
  return { ...base, net: contour, cut: contour, inner, notches: [], marks: [], edges: [] };
}
