import type { Spot } from '../../../../drafting/edge-view.ts';
import type { PieceOnPlan } from './placed.ts';

/**
 * How far a piece is moved where it is let go: as it was dragged, or a little more, so that a corner of it
 * comes to lie on a corner of another piece, or else a side of it in line with a side of another or its
 * middle on the vehicle's centreline. `reach`: mm within which it is drawn there.
 */
export function snappedMove(
  moved: PieceOnPlan,
  by: Spot,
  others: readonly PieceOnPlan[],
  reach: number,
): Spot {
  const [dx, dy] = moved.isOnAxis ? [0, by[1]] : by;
  const [west, south, east, north] = moved.box;
  const isNear = ({ box: [left, rear, right, front] }: PieceOnPlan): boolean =>
    left <= east + dx + reach &&
    right >= west + dx - reach &&
    rear <= north + dy + reach &&
    front >= south + dy - reach;
  const near = others.filter(isNear);
  const corner = nearest(
    moved.corners.flatMap(([x, y]) =>
      near.flatMap(({ corners }) => corners.map(([ox, oy]): Spot => [ox - x - dx, oy - y - dy])),
    ),
    reach,
    moved.isOnAxis,
  );
  if (corner !== null) return [dx + corner[0], dy + corner[1]];
  const besideX = others.flatMap(({ box: [left, , right] }) =>
    [left, right].flatMap((to) => [to - west - dx, to - east - dx]),
  );
  const toX = closest([...besideX, -(west + east) / 2 - dx], reach);
  const toY = closest(
    others.flatMap(({ box: [, rear, , front] }) =>
      [rear, front].flatMap((to) => [to - south - dy, to - north - dy]),
    ),
    reach,
  );
  return [moved.isOnAxis ? 0 : dx + toX, dy + toY];
}

/** The shortest of some moves within reach; null: there is none. */
function nearest(moves: readonly Spot[], reach: number, isAlong: boolean): Spot | null {
  const within = moves.filter(
    ([x, y]) => Math.hypot(x, y) <= reach && (!isAlong || Math.abs(x) < 0.01),
  );
  if (within.length === 0) return null;
  const length = ([x, y]: Spot): number => Math.hypot(x, y);
  const [x, y] = within.reduce((best, one) => (length(one) < length(best) ? one : best));
  return [isAlong ? 0 : x, y];
}

/** The shortest of some ways within reach; 0: there is none. */
function closest(ways: readonly number[], reach: number): number {
  const within = ways.filter((one) => Math.abs(one) <= reach);
  return within.length === 0
    ? 0
    : within.reduce((best, one) => (Math.abs(one) < Math.abs(best) ? one : best));
}
