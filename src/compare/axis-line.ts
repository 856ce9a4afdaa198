import { polyline } from '../geometry/paths/path.ts';
import type { Detail } from './comparable.ts';

/** Half the length at which a centreline is compared, mm. */
const half = 100;

/**
 * A centreline at a standard length and place along it: how long it was drawn means nothing, only where
 * it runs. Any other detail as it is.
 */
export function standardAxis(detail: Detail): Detail {
  if (detail.isAxis !== true) return detail;
  const [from, to] = detail.path.vertices;
  const length = Math.hypot(to!.x - from!.x, to!.y - from!.y);
  const along = { x: (to!.x - from!.x) / length, y: (to!.y - from!.y) / length };
  const off = from!.x * along.x + from!.y * along.y;
  const foot = { x: from!.x - off * along.x, y: from!.y - off * along.y };
  const end = (by: number): { x: number; y: number } => ({
    x: foot.x + by * along.x,
    y: foot.y + by * along.y,
  });
  return { ...detail, path: polyline([end(-half), end(half)], false) };
}
