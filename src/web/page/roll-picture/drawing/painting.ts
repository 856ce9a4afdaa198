import type { Size, View } from '../../picture/view.ts';
import { shiftBetween } from '../../picture/view.ts';

/**
 * A picture that is painted out of sight, a slice of time after the other, and is shown when it is
 * done. While the view moves, only the finished picture is copied.
 */
interface Painting {
  /** Begins anew for a view; what was begun is dropped. */
  readonly begin: (view: View, size: Size, ratio: number, draw: Draw) => void;
  /**
   * Goes on painting until the time is `until` (ms, as performance.now counts). Says whether there is
   * nothing left to do.
   */
  readonly goOn: (until: number) => boolean;
  /** Copies the finished picture to where it lies in another view; false where there is none. */
  readonly show: (ctx: CanvasRenderingContext2D, now: View, ratio: number) => boolean;
  /** The view that the finished picture was made for. */
  readonly view: () => View | null;
  readonly busy: () => boolean;
  readonly clear: () => void;
}

type Draw = (ctx: CanvasRenderingContext2D) => Generator<void>;

interface PaintedSheet {
  readonly canvas: HTMLCanvasElement;
  readonly view: View;
  readonly ratio: number;
}

export function createPainting(): Painting {
  let done: PaintedSheet | null = null;
  let spare: HTMLCanvasElement | null = null;
  let work: { readonly sheet: PaintedSheet; readonly steps: Generator<void> } | null = null;
  return {
    begin: (view, size, ratio, draw) => {
      const canvas = work?.sheet.canvas ?? spare ?? document.createElement('canvas');
      spare = null;
      canvas.width = Math.max(1, Math.round(size.width * ratio));
      canvas.height = Math.max(1, Math.round(size.height * ratio));
      work = { sheet: { canvas, view, ratio }, steps: draw(canvas.getContext('2d')!) };
    },
    goOn: (until) => {
      if (work === null) return true;
      do {
        if (work.steps.next().done === true) {
          spare = done?.canvas ?? null;
          done = work.sheet;
          work = null;
          return true;
        }
      } while (performance.now() < until);
      return false;
    },
    show: (ctx, now, ratio) => {
      if (done === null) return false;
      const { x, y, factor } = shiftBetween(done.view, now);
      const grown = (factor * ratio) / done.ratio;
      const { canvas } = done;
      if (Math.abs(grown - 1) < 1e-9) {
        ctx.drawImage(canvas, Math.round(x * ratio), Math.round(y * ratio));
      } else {
        ctx.drawImage(canvas, x * ratio, y * ratio, canvas.width * grown, canvas.height * grown);
      }
      return true;
    },
    view: () => done?.view ?? null,
    busy: () => work !== null,
    clear: () => {
      done = null;
      work = null;
    },
  };
}
