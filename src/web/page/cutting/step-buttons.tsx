import type { JSX } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { CutStep, RollToCut, StepTick } from '../../api/cut-steps.ts';
import { lastTicked, restOfLay } from '../../api/cut-steps.ts';
import type { RunFolder } from '../../api/files.ts';
import { calls } from '../server/calls.ts';
import type { RollAtMachine } from './step-words.ts';
import { stepWords } from './step-words.ts';
import type { OpenCutting } from './use-cutting.ts';
import { usePressKeys } from './use-press-keys.ts';

/** So long, ms, nothing is ticked here after another window has. */
const startledFor = 2000;

/** The buttons of a step: the large one that ticks it, and the ways back and aside. */
export function StepButtons({
  folder,
  at,
  roll,
  next,
  looked,
  ticks,
  cutting,
  takesFocus,
  isLarge,
  onTicked,
  onBack,
  onWrong,
  onLarge,
}: {
  folder: RunFolder;
  at: RollAtMachine;
  roll: RollToCut;
  /** null: all steps of the roll are ticked. */
  next: CutStep | null;
  /** A step that is looked at and is not the next one; null: the next one is. */
  looked: CutStep | null;
  ticks: readonly StepTick[];
  cutting: OpenCutting;
  /** Whether the focus comes here where it is nowhere else. */
  takesFocus: boolean;
  isLarge: boolean;
  onTicked: (step: CutStep) => void;
  onBack: () => void;
  onWrong: () => void;
  onLarge: (on: boolean) => void;
}): JSX.Element {
  const main = useRef<HTMLButtonElement>(null);
  const pressed = useRef(false);
  const isFirst = useRef(true);
  const last = lastTicked(roll, ticks);
  // What was pressed is done: the keyboard goes on with what comes next.
  const shown = useRef(roll.roll);
  // Where another window ticked, the button means something else of a sudden: a finger may be on its way to it.
  const [isStartled, setStartled] = useState(false);
  useEffect(() => {
    const isOwn = pressed.current;
    if (isOwn) main.current?.focus();
    pressed.current = false;
    const isSameRoll = shown.current === roll.roll;
    shown.current = roll.roll;
    if (isFirst.current || isOwn || !isSameRoll) {
      isFirst.current = false;
      return;
    }
    setStartled(true);
    const timer = setTimeout(() => setStartled(false), startledFor);
    return () => clearTimeout(timer);
  }, [roll.roll, next]);
  useEffect(() => {
    if (takesFocus && document.activeElement === document.body) main.current?.focus();
  }, []);
  const tick = (step: CutStep, first?: () => Promise<unknown>): void => {
    pressed.current = true;
    void cutting.tick(roll.roll, step, first).then((isDone) => isDone && onTicked(step));
  };
  const press = (): void => {
    if (next === null || isStartled) return;
    tick(next, next === 'rest' ? () => bookRest(folder, at) : undefined);
  };
  const canPress = next !== null && looked === null;
  usePressKeys(canPress ? press : null);
  return (
    <>
      {canPress && (
        <button
          class="button accent main-button"
          aria-disabled={isStartled}
          ref={main}
          // Neither a key that is held down nor a second click of the same hand ticks the next step too.
          onKeyDown={(event) => event.repeat && event.preventDefault()}
          onClick={(event) => event.detail <= 1 && press()}
        >
          {stepWords(next, at).done}
        </button>
      )}
      {looked !== null && next !== null && (
        <button class="button large" onClick={onBack}>
          Back to: {stepWords(next, at).title}
        </button>
      )}
      {canPress && next === 'rest' && (
        <button class="button large" onClick={() => tick('rest')}>
          Leave it as it stands
        </button>
      )}
      {isStartled && <p role="status">Another window has ticked: look what comes next.</p>}
      <button class="button large" onClick={onWrong}>
        Something went wrong
      </button>
      <span class="step-aside">
        {last !== null && (
          <button
            class="button"
            onClick={() => {
              pressed.current = true;
              void cutting.untick(roll.roll, last);
            }}
          >
            Not yet: {stepWords(last, at).name}
          </button>
        )}
        <button
          class="button"
          aria-pressed={isLarge}
          onClick={() => {
            onLarge(!isLarge);
            // The next Enter ticks what is done.
            main.current?.focus();
          }}
        >
          {isLarge ? 'Not so large' : 'Large'}
        </button>
      </span>
    </>
  );
}

/** Keeps what is left of a roll in the rolls of the shop; once it is kept so, nothing is done. */
async function bookRest(folder: RunFolder, { lay }: RollAtMachine): Promise<void> {
  const rest = restOfLay(lay, folder.rests);
  if (rest === null) return;
  const { material, roll } = rest;
  await calls.rememberRest(folder.name, {
    material,
    colour: roll.colour ?? null,
    name: roll.name!,
  });
}
