import type { RefObject } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { Point } from '../../../geometry/paths/point.ts';
import type { Extent, Size, View } from './view.ts';
import { fittedView, panned, zoomed } from './view.ts';

/** The smallest scale, pixels to a mm. */
const farthest = 0.01;

/** A window that shows all of an extent at first. */
interface FittedView {
  /** Of the element that is the window. */
  readonly window: RefObject<HTMLDivElement | null>;
  readonly size: Size;
  /** null: it has not been measured yet. */
  readonly view: View | null;
  readonly fit: () => void;
  /** Moves what is shown, pixels. Like `zoomAt` it is good for as long as the window is there. */
  readonly pan: (by: Point) => void;
  readonly zoomAt: (at: Point, factor: number) => void;
  /** Zooms about the middle of the window. */
  readonly zoom: (factor: number) => void;
}

/**
 * A view that begins with all of an extent in its window, `margin` pixels from the edge and `sides` from those to the
 * left and right, and again whenever the window has another size or `subject` is another.
 */
export function useFittedView(
  extent: Extent,
  margin: number,
  subject: string | boolean,
  sides = margin,
): FittedView {
  const window = useRef<HTMLDivElement>(null);
  const [size, setSize] = useState<Size>({ width: 0, height: 0 });
  const [view, setView] = useState<View | null>(null);
  const fit = (): void => {
    const { width, height } = window.current!.getBoundingClientRect();
    setView(fittedView(extent, { width, height }, margin, 0, sides));
  };
  useEffect(() => {
    const element = window.current!;
    const observer = new ResizeObserver(() => {
      const { width, height } = element.getBoundingClientRect();
      setSize({ width, height });
    });
    observer.observe(element);
    return () => observer.disconnect();
  }, []);
  useEffect(() => {
    if (size.width > 0) fit();
  }, [subject, size.width, size.height]);
  const pan = (by: Point): void => setView((before) => before && panned(before, by));
  const zoomAt = (at: Point, factor: number): void =>
    setView((before) => before && zoomed(before, at, factor, farthest));
  const zoom = (factor: number): void => zoomAt({ x: size.width / 2, y: size.height / 2 }, factor);
  return { window, size, view, fit, pan, zoomAt, zoom };
}
