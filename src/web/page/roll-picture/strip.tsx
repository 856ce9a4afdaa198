import type { JSX, RefObject } from 'preact';
import { useEffect, useLayoutEffect, useRef } from 'preact/hooks';
import { onThemeChange } from './drawing/inks.ts';
import { drawStrip } from './drawing/draw-strip.ts';
import type { Scene } from './drawing/scene.ts';
import { firstExtent } from './drawing/scene.ts';
import type { Stretch } from './places/rows.ts';

/**
 * The whole lay in little, with frames about what the picture shows of it. Pressing it or moving along it moves the
 * picture; keys do that in the picture itself.
 */
export function RollStrip({
  scene,
  marks,
  onGoAlong,
}: {
  readonly scene: Scene;
  /** Is filled with what draws the frames. */
  readonly marks: RefObject<((seen: readonly Stretch[]) => void) | null>;
  /** `x` is mm along the roll. */
  readonly onGoAlong: (x: number) => void;
}): JSX.Element {
  const canvas = useRef<HTMLCanvasElement>(null);
  const frames = useRef<HTMLDivElement>(null);
  const reach = firstExtent(scene)[2];
  const { roll, placed, manner } = scene;
  useEffect(() => {
    const own = canvas.current!;
    const draw = (): void => drawStrip(own, scene, reach);
    const watch = new ResizeObserver(draw);
    watch.observe(own);
    const unwatch = onThemeChange(draw);
    return () => {
      watch.disconnect();
      unwatch();
    };
  }, [roll, placed, manner, reach]);
  useLayoutEffect(() => {
    marks.current = (seen) => showFrames(frames.current!, seen, reach);
  }, [reach]);
  const go = (event: PointerEvent): void => {
    const { left, width } = canvas.current!.getBoundingClientRect();
    onGoAlong(Math.max(0, Math.min(1, (event.clientX - left) / width)) * reach);
  };
  return (
    <div
      class="roll-strip"
      aria-hidden="true"
      onPointerDown={(event) => {
        event.currentTarget.setPointerCapture(event.pointerId);
        go(event);
      }}
      onPointerMove={(event) => event.buttons === 1 && go(event)}
    >
      <canvas ref={canvas} />
      <div ref={frames} />
    </div>
  );
}

/** One frame for each stretch; those that meet are one. */
function showFrames(element: HTMLDivElement, seen: readonly Stretch[], reach: number): void {
  const joined: [number, number][] = [];
  for (const [from, to] of seen) {
    const last = joined.at(-1);
    if (last !== undefined && from <= last[1] + 1) last[1] = to;
    else joined.push([from, to]);
  }
  const style = joined
    .map(([from, to]) => `${((100 * from) / reach).toFixed(2)} ${((100 * to) / reach).toFixed(2)}`)
    .join();
  if (element.dataset['seen'] === style) return;
  element.dataset['seen'] = style;
  element.replaceChildren(
    ...joined.map(([from, to]) => {
      const frame = document.createElement('span');
      frame.style.left = `${(100 * Math.max(0, from)) / reach}%`;
      frame.style.right = `${Math.max(0, 100 - (100 * to) / reach)}%`;
      return frame;
    }),
  );
}
