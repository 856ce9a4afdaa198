import type { ComponentChildren } from 'preact';
import { spokenTime } from './timeline.ts';

/** The speeds that can be chosen: how many times as fast as the machine. */
const speeds = [1, 4, 16, 64] as const;

/** What the buttons of the player do. */
interface Controls {
  readonly playing: boolean;
  readonly speed: number;
  readonly onPlay: () => void;
  readonly onSpeed: (speed: number) => void;
  readonly onStep: (by: 1 | -1) => void;
  readonly onBite: (by: 1 | -1) => void;
}

export function ControlRow({ playing, speed, onPlay, onSpeed, onStep, onBite }: Controls) {
  return (
    <div class="rehearsal-controls">
      <button type="button" class="rehearsal-play" onClick={onPlay}>
        {playing ? 'Pause' : 'Play'}
      </button>
      <label class="rehearsal-speed">
        Speed
        <select
          value={String(speed)}
          onChange={(event) => onSpeed(Number(event.currentTarget.value))}
        >
          {speeds.map((times) => (
            <option key={times} value={String(times)}>
              {times}x
            </option>
          ))}
        </select>
      </label>
      <Plain words="Step back" keys="," onClick={() => onStep(-1)} />
      <Plain words="Step on" keys="." onClick={() => onStep(1)} />
      <Plain words="Bite before" onClick={() => onBite(-1)} />
      <Plain words="Next bite" onClick={() => onBite(1)} />
    </div>
  );
}

function Plain({
  words,
  keys,
  onClick,
}: {
  readonly words: ComponentChildren;
  readonly keys?: string;
  readonly onClick: () => void;
}) {
  return (
    <button
      type="button"
      class="rehearsal-button"
      onClick={onClick}
      {...(keys === undefined ? {} : { 'aria-keyshortcuts': keys })}
    >
      {words}
    </button>
  );
}

/** A slider over the whole time, which shows the moment and changes it. */
export function TimeSlider({
  seconds,
  total,
  bite,
  bites,
  onSet,
}: {
  readonly seconds: number;
  readonly total: number;
  /** The number of the bite, counted from 1. */
  readonly bite: number;
  readonly bites: number;
  readonly onSet: (seconds: number) => void;
}) {
  const words = `${spokenTime(seconds)} of ${spokenTime(total)}, bite ${bite} of ${bites}`;
  return (
    <input
      type="range"
      class="rehearsal-slider"
      aria-label="Moment of the rehearsal"
      aria-valuetext={words}
      min={0}
      max={total}
      step="any"
      value={seconds}
      onInput={(event) => onSet(Number(event.currentTarget.value))}
      onKeyDown={(event) => {
        const by = sliderStep(event.key, total);
        if (by === 0) return;
        event.preventDefault();
        onSet(seconds + by);
      }}
    />
  );
}

/**
 * How far a key moves the slider, seconds: an arrow key by one second, a page key by a twentieth of the
 * whole. Left to itself, a slider without steps moves much further.
 */
function sliderStep(key: string, total: number): number {
  if (key === 'ArrowRight' || key === 'ArrowUp') return 1;
  if (key === 'ArrowLeft' || key === 'ArrowDown') return -1;
  if (key === 'PageUp') return total / 20;
  return key === 'PageDown' ? -total / 20 : 0;
}
