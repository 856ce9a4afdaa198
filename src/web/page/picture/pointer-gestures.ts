import type { Point } from '../../../geometry/paths/point.ts';

/**
 * What a pointer does to the picture. Points are pixels of the page, from the corner of the element.
 */
export interface PointerGestures {
  /**
   * A pointer is pressed: takes hold of what is there, or begins to mark. What it gives says what
   * moving the pointer does from now on.
   */
  readonly grab: (at: Point) => 'drag' | 'tap' | 'mark' | 'pan';
  /** `isStraight`: it is to go in one direction alone, as Shift says. */
  readonly dragTo: (at: Point, isStraight: boolean) => void;
  readonly release: (at: Point, isStraight: boolean) => void;
  /** What was begun is given up. */
  readonly cancel: () => void;
  readonly tap: (at: Point, add: boolean) => void;
  readonly hover: (at: Point | null) => void;
  readonly pan: (by: Point) => void;
  readonly zoom: (at: Point, factor: number) => void;
  /**
   * Whether the wheel moves what is shown up and down, as on a page that is higher than its window; with Ctrl it zooms
   * then. Left out: the wheel always zooms.
   */
  readonly isHigh?: () => boolean;
}

/** A pointer that moves by fewer pixels than this is taken to stand still. */
const tremble = 4;
/**
 * How strongly the wheel zooms, for each of its pixels; a notch of a wheel is a hundred of them.
 */
const zoomPerPixel = 0.0018;

/** Watches the pointers on an element and tells what they do. Returns what ends it. */
export function watchPointers(element: HTMLElement, gestures: () => PointerGestures): () => void {
  const pointers = new Map<number, Point>();
  let begun: { readonly at: Point; readonly what: ReturnType<PointerGestures['grab']> } | null =
    null;
  let moved = false;

  const spotOf = (event: MouseEvent): Point => {
    const box = element.getBoundingClientRect();
    return { x: event.clientX - box.left, y: event.clientY - box.top };
  };
  const down = (event: PointerEvent): void => {
    if (event.button > 1) return;
    const at = spotOf(event);
    pointers.set(event.pointerId, at);
    element.setPointerCapture(event.pointerId);
    if (event.button === 1) event.preventDefault();
    if (pointers.size === 2) {
      if (begun?.what === 'drag' || begun?.what === 'mark') gestures().cancel();
      begun = null;
      return;
    }
    moved = false;
    begun = { at, what: event.button === 1 ? 'pan' : gestures().grab(at) };
  };
  const move = (event: PointerEvent): void => {
    const at = spotOf(event);
    const last = pointers.get(event.pointerId);
    if (last === undefined) {
      gestures().hover(at);
      return;
    }
    if (pointers.size === 2) {
      pinch(event.pointerId, last, at);
      pointers.set(event.pointerId, at);
      return;
    }
    if (begun === null) return;
    if (!moved && Math.hypot(at.x - begun.at.x, at.y - begun.at.y) < tremble) return;
    const from = moved ? last : begun.at;
    moved = true;
    pointers.set(event.pointerId, at);
    if (begun.what === 'drag' || begun.what === 'mark') gestures().dragTo(at, event.shiftKey);
    else gestures().pan({ x: at.x - from.x, y: at.y - from.y });
  };
  const pinch = (id: number, last: Point, at: Point): void => {
    const other = [...pointers].find(([key]) => key !== id)![1];
    const before = Math.hypot(last.x - other.x, last.y - other.y);
    const now = Math.hypot(at.x - other.x, at.y - other.y);
    gestures().pan({ x: (at.x - last.x) / 2, y: (at.y - last.y) / 2 });
    if (before > 1)
      gestures().zoom({ x: (at.x + other.x) / 2, y: (at.y + other.y) / 2 }, now / before);
  };
  const up = (event: PointerEvent): void => {
    if (!pointers.delete(event.pointerId) || begun === null) return;
    const { what } = begun;
    begun = null;
    const at = spotOf(event);
    if (moved) {
      if (what === 'drag' || what === 'mark') gestures().release(at, event.shiftKey);
      return;
    }
    if (what === 'drag' || what === 'mark') gestures().cancel();
    if (event.button === 0 && what !== 'mark') gestures().tap(at, event.shiftKey);
  };
  const lost = (event: PointerEvent): void => {
    if (!pointers.delete(event.pointerId)) return;
    if (begun?.what === 'drag' || begun?.what === 'mark') gestures().cancel();
    begun = null;
  };
  const leave = (): void => {
    if (pointers.size === 0) gestures().hover(null);
  };
  const wheel = (event: WheelEvent): void => {
    event.preventDefault();
    const unit = event.deltaMode === 1 ? 32 : 1;
    if (Math.abs(event.deltaX) > Math.abs(event.deltaY)) {
      gestures().pan({ x: -event.deltaX * unit, y: 0 });
      return;
    }
    if (!event.ctrlKey && gestures().isHigh?.() === true) {
      gestures().pan({ x: 0, y: -event.deltaY * unit });
      return;
    }
    const strength = event.ctrlKey ? 5 : 1;
    const factor = Math.exp(-event.deltaY * unit * zoomPerPixel * strength);
    gestures().zoom(spotOf(event), Math.min(2, Math.max(0.5, factor)));
  };

  const ending = new AbortController();
  const { signal } = ending;
  element.addEventListener('pointerdown', down, { signal });
  element.addEventListener('pointermove', move, { signal });
  element.addEventListener('pointerup', up, { signal });
  element.addEventListener('pointercancel', lost, { signal });
  element.addEventListener('pointerleave', leave, { signal });
  element.addEventListener('wheel', wheel, { signal, passive: false });
  return () => ending.abort();
}
