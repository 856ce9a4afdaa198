import type { RehearsalMoves } from '../../api/rehearsal.ts';
import type { Matrix } from '../picture/view.ts';

/** What draws lines, as a Path2D does. */
interface LinePen {
  readonly moveTo: (x: number, y: number) => void;
  readonly lineTo: (x: number, y: number) => void;
}

/**
 * Draws the moves from number `from` up to, but not with, number `to` with the pens of their kinds
 * (knife up, down, shallow), through a matrix. Points closer together than `least` are passed over,
 * except where the kind changes.
 */
export function addMoves(
  { x, y, down }: RehearsalMoves,
  from: number,
  to: number,
  [a, , , d, e, f]: Matrix,
  lines: readonly [LinePen, LinePen, LinePen],
  least: number,
): void {
  let kind = -1;
  let [lastX, lastY] = [0, 0];
  for (let i = Math.max(1, from); i < to; i++) {
    const line = lines[down[i]!]!;
    if (down[i] !== kind) {
      kind = down[i]!;
      [lastX, lastY] = [a * x[i - 1]! + e, d * y[i - 1]! + f];
      line.moveTo(lastX, lastY);
    }
    const [nowX, nowY] = [a * x[i]! + e, d * y[i]! + f];
    const isLast = i === to - 1 || down[i + 1] !== kind;
    if (!isLast && Math.abs(nowX - lastX) + Math.abs(nowY - lastY) < least) continue;
    line.lineTo(nowX, nowY);
    [lastX, lastY] = [nowX, nowY];
  }
}

/**
 * How many moves lie between two pictures that are kept: the more memory a picture takes, the fewer are
 * kept.
 */
export function keptEvery(count: number, pixels: number): number {
  const most = Math.max(4, Math.min(32, Math.floor(memory / (4 * pixels))));
  return Math.max(2500, Math.ceil(count / most));
}

/** The bytes that pictures may take which are kept. */
const memory = 120_000_000;
