import type { RefObject } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';

declare global {
  interface Window {
    /** How long the last frames took while a rehearsal played, ms; the bench reads it. */
    pilewayFrames?: number[];
  }
}

/** A clock that can be played, stopped and set. */
interface Clock {
  /** Seconds from the start, exactly. */
  readonly exact: RefObject<number>;
  /** The same, as it was when figures were last written. */
  readonly shown: number;
  readonly playing: boolean;
  readonly play: (on: boolean) => void;
  readonly set: (seconds: number) => void;
}

/** Figures are written every so many ms. */
const figureTime = 100;
const mostFrames = 600;

/**
 * A clock that runs from 0 to `total` seconds, `speed` times as fast as real time. `tick` is called at
 * every frame.
 */
export function useClock(total: number, speed: number, tick: () => void): Clock {
  const exact = useRef(0);
  const pace = useRef(speed);
  pace.current = speed;
  const ticked = useRef(tick);
  ticked.current = tick;
  const [shown, setShown] = useState(0);
  const [playing, setPlaying] = useState(false);

  useEffect(() => {
    if (!playing) return undefined;
    const frames: number[] = [];
    window.pilewayFrames = frames;
    let last: number | null = null;
    let written = 0;
    let request = requestAnimationFrame(function step(now) {
      const passed = last === null ? 0 : now - last;
      if (last !== null) frames.push(passed);
      if (frames.length > mostFrames) frames.shift();
      last = now;
      exact.current = Math.min(total, exact.current + (passed / 1000) * pace.current);
      const isOver = exact.current >= total;
      if (isOver || now - written >= figureTime) {
        written = now;
        setShown(exact.current);
      }
      ticked.current();
      if (isOver) setPlaying(false);
      else request = requestAnimationFrame(step);
    });
    return () => cancelAnimationFrame(request);
  }, [playing, total]);

  const set = (seconds: number): void => {
    exact.current = Math.min(total, Math.max(0, seconds));
    setShown(exact.current);
    ticked.current();
  };
  const play = (on: boolean): void => {
    if (on && exact.current >= total) set(0);
    else setShown(exact.current);
    setPlaying(on);
  };
  return { exact, shown, playing, play, set };
}
