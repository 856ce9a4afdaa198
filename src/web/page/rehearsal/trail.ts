import type { RehearsalMoves } from '../../api/rehearsal.ts';
import type { Inks } from '../roll-picture/drawing/inks.ts';
import type { Size, View } from '../picture/view.ts';
import { shiftBetween, viewMatrix } from '../picture/view.ts';
import { addMoves, keptEvery } from './strokes.ts';

/** The knife's way up to a move, drawn for one view. */
export interface Trail {
  readonly view: View;
  /**
   * Draws on, or goes back, until the first `moves` moves are drawn, or until the time is `until` (ms,
   * as performance.now counts). Says whether they are all drawn.
   */
  readonly bring: (moves: number, until: number) => boolean;
  /** Copies it to where it lies in another view. */
  readonly show: (ctx: CanvasRenderingContext2D, now: View, ratio: number) => void;
}

const movesAtOnce = 400;
/** The scale, pixels to a mm, from which lines have their full weight. */
const heavyFrom = 0.15;
/** Points closer together than this, pixels of the canvas, cannot be told apart. */
const least = 0.7;

/** Begins a trail. A picture is kept every few thousand moves, to go back to. */
export function createTrail(
  moves: RehearsalMoves,
  view: View,
  size: Size,
  ratio: number,
  inks: Inks,
): Trail {
  const canvas = newCanvas(size.width * ratio, size.height * ratio);
  const ctx = canvas.getContext('2d')!;
  const every = keptEvery(moves.at.length, canvas.width * canvas.height);
  const kept = new Map<number, HTMLCanvasElement>();
  let drawn = 0;

  const isAt = (wanted: number): boolean => drawn === wanted;
  const drawTo = (to: number): void => {
    strokeMoves(ctx, moves, drawn, to, view, ratio, inks);
    drawn = to;
    if (drawn % every === 0 && !kept.has(drawn)) kept.set(drawn, copyOf(canvas));
  };
  const goBack = (to: number): void => {
    drawn = Math.floor(to / every) * every;
    while (drawn > 0 && !kept.has(drawn)) drawn -= every;
    ctx.clearRect(0, 0, canvas.width, canvas.height);
    const picture = kept.get(drawn);
    if (picture !== undefined) ctx.drawImage(picture, 0, 0);
  };
  return {
    view,
    bring: (wanted, until) => {
      if (wanted < drawn) goBack(wanted);
      while (!isAt(wanted)) {
        const boundary = (Math.floor(drawn / every) + 1) * every;
        drawTo(Math.min(wanted, boundary, drawn + movesAtOnce));
        if (performance.now() >= until) break;
      }
      return isAt(wanted);
    },
    show: (on, now, by) => {
      const { x, y, factor } = shiftBetween(view, now);
      const grown = (factor * by) / ratio;
      if (Math.abs(grown - 1) < 1e-9) on.drawImage(canvas, Math.round(x * by), Math.round(y * by));
      else on.drawImage(canvas, x * by, y * by, canvas.width * grown, canvas.height * grown);
    },
  };
}

/** Draws moves: cuts solid and heavy, travel thin and dashed, turns dotted. */
function strokeMoves(
  ctx: CanvasRenderingContext2D,
  moves: RehearsalMoves,
  from: number,
  to: number,
  view: View,
  ratio: number,
  inks: Inks,
): void {
  const [up, cut, turned] = [new Path2D(), new Path2D(), new Path2D()];
  addMoves(moves, from, to, viewMatrix(view, ratio), [up, cut, turned], least);
  strokeKind(ctx, up, 0, view, ratio, inks);
  strokeKind(ctx, turned, 2, view, ratio, inks);
  strokeKind(ctx, cut, 1, view, ratio, inks);
}

/** Strokes a line of a kind: 0 knife up, 1 down, 2 shallow. */
export function strokeKind(
  ctx: CanvasRenderingContext2D,
  line: Path2D,
  kind: number,
  { scale }: View,
  ratio: number,
  inks: Inks,
): void {
  const dash = [[5, 4], [], [1.5, 2.5]][kind]!;
  ctx.strokeStyle = kind === 0 ? inks.soft : kind === 1 ? inks.ink : inks.accent;
  // Seen from far away, heavy lines would run together.
  const weight = Math.min(1, Math.max(0.5, scale / heavyFrom));
  ctx.lineWidth = [0.75, 2.25, 2][kind]! * weight * ratio;
  ctx.lineJoin = 'round';
  ctx.setLineDash(dash.map((length) => length * ratio));
  ctx.stroke(line);
  ctx.setLineDash([]);
}

function newCanvas(width: number, height: number): HTMLCanvasElement {
  const canvas = document.createElement('canvas');
  canvas.width = Math.max(1, Math.round(width));
  canvas.height = Math.max(1, Math.round(height));
  return canvas;
}

function copyOf(canvas: HTMLCanvasElement): HTMLCanvasElement {
  const copy = newCanvas(canvas.width, canvas.height);
  copy.getContext('2d')!.drawImage(canvas, 0, 0);
  return copy;
}
