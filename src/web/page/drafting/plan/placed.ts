import type { Spot } from '../../../../drafting/edge-view.ts';
import type { PieceView } from '../../../../drafting/view.ts';
import type { Extent } from '../../picture/view.ts';

/** A piece in the vehicle: x to the right, y forward, mm. */
export interface PieceOnPlan {
  readonly view: PieceView;
  /** The corners of its outline in the vehicle. */
  readonly corners: readonly Spot[];
  readonly box: Extent;
  /** Whether it lies on the vehicle's centreline, so that only its place along the vehicle is free. */
  readonly isOnAxis: boolean;
}

/** The pieces in the vehicle, the largest first, so that small ones lie on them. */
export function placedPieces(pieces: Iterable<PieceView>): PieceOnPlan[] {
  const placed = [...pieces].flatMap((view): PieceOnPlan[] => {
    const corners = cornersOf(view);
    if (corners.length === 0) return [];
    return [{ view, corners, box: extentOfSpots(corners), isOnAxis: view.axis !== null }];
  });
  return placed.toSorted((a, b) => areaOf(b.box) - areaOf(a.box));
}

/** All that the plan shows: pieces, the other halves of pairs, and what lies in no outline. */
export function extentOfPlan(placed: readonly PieceOnPlan[], others: readonly Spot[]): Extent {
  const spots = placed.flatMap(({ view, box: [left, rear, right, front] }): Spot[] => [
    [left, rear],
    [right, front],
    ...(view.said.side === 'pair' ? [[-left, rear] as const, [-right, front] as const] : []),
  ]);
  const all = [...spots, ...others];
  return extentOfSpots(placed.length === 0 ? [...all, [-500, -500], [500, 500]] : all);
}

/** The ends of all segments of an outline, in the frame of the vehicle. */
function cornersOf({ outline, frame: [a, b, c, d, e, f] }: PieceView): Spot[] {
  if (outline === null) return [];
  const ends = outline.match(/[MLA][^MLAZ]*/g) ?? [];
  return ends.map((one): Spot => {
    const numbers = one.slice(1).trim().split(/[ ,]+/).map(Number);
    const [x, y] = numbers.slice(-2) as [number, number];
    return [a * x + c * y + e, b * x + d * y + f];
  });
}

function extentOfSpots(spots: readonly Spot[]): Extent {
  const xs = spots.map(([x]) => x);
  const ys = spots.map(([, y]) => y);
  return [Math.min(...xs), Math.min(...ys), Math.max(...xs), Math.max(...ys)];
}

function areaOf([minX, minY, maxX, maxY]: Extent): number {
  return (maxX - minX) * (maxY - minY);
}
