import type { JSX } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { lengthWords } from '../../../base/wording.ts';
import type { CutStep } from '../../api/cut-steps.ts';
import { biteInStep, lastTicked, nextStep, rollsToCut } from '../../api/cut-steps.ts';
import type { SentMarks } from '../../api/cutting.ts';
import type { RunFolder } from '../../api/files.ts';
import type { Shop } from '../../api/shop.ts';
import { ProgramLink } from './program-link.tsx';
import { SpoiltParts } from './spoilt-parts.tsx';
import type { RollAtMachine } from './step-words.ts';
import { beginAgainWords, stepWords } from './step-words.ts';

/** What to do where something went wrong: with which bite to begin again, and parts to be cut again. */
export function Mishap({
  folder,
  shop,
  at,
  marks,
  onUndo,
  onBack,
}: {
  folder: RunFolder;
  shop: Shop | null;
  at: RollAtMachine;
  marks: SentMarks;
  onUndo: (step: CutStep) => void;
  onBack: () => void;
}): JSX.Element {
  const title = useRef<HTMLHeadingElement>(null);
  useEffect(() => title.current?.focus(), []);
  const roll = rollsToCut(folder).find((one) => one.roll === at.key)!;
  const next = nextStep(roll, marks.ticks);
  const last = lastTicked(roll, marks.ticks);
  return (
    <div class="step-pane scrolls">
      <div class="title-row">
        <h2 class="step-title" ref={title} tabIndex={-1}>
          Something went wrong
        </h2>
        <button class="button large" onClick={onBack}>
          Back to the work
        </button>
      </div>
      <p class="caution">
        Stop the machine and isolate it before anybody touches the blade. Gloves on; old blades into
        a sharps box.
      </p>
      <section class="pane" aria-labelledby="again-title">
        <h2 id="again-title">The knife broke, the power went, or the cloth slipped</h2>
        <AgainLines folder={folder} at={at} next={next} marks={marks} />
        {last !== null && (
          <p>
            Is it not so? Take the last tick back:{' '}
            <button class="button" onClick={() => onUndo(last)}>
              Not yet: {stepWords(last, at).name}
            </button>
          </p>
        )}
      </section>
      <h2>Parts are spoilt or lost</h2>
      <p>Click them in the picture, one after the other, or choose them by name.</p>
      <SpoiltParts folder={folder} shop={shop} at={at} />
    </div>
  );
}

/** With which bite to begin again, how far the roll must lie fed for it, and its program. */
function AgainLines({
  folder,
  at,
  next,
  marks,
}: {
  folder: RunFolder;
  at: RollAtMachine;
  next: CutStep | null;
  marks: SentMarks;
}): JSX.Element {
  const { key, work, machine } = at;
  const bite = next === null ? null : biteInStep(next);
  if (bite === null) {
    const isCut = marks.ticks.some((one) => one.roll === key && biteInStep(one.step) !== null);
    return (
      <p class="strong">
        {isCut
          ? 'All bites of this roll are cut.'
          : 'Nothing of this roll is cut: begin with the roll.'}
      </p>
    );
  }
  if (work.bites.length === 1 || bite === 1) {
    return (
      <>
        <p class="strong">
          {work.bites.length === 1
            ? 'Begin again from the start, or cut only the parts that were not cut, below.'
            : 'Begin again with bite 1: no bite is cut.'}
        </p>
        <p>
          What the knife has cut already it cuts once more in its own track, as long as the roll has
          not moved.
        </p>
        <div class="actions">
          <ProgramLink folder={folder} roll={key} which="whole" words="Program, all of it" />
        </div>
      </>
    );
  }
  const { start } = work.bites[bite - 1]!;
  return (
    <>
      <p class="strong">{beginAgainWords(key, next, marks.ticks)}</p>
      <p>
        The roll must lie fed {lengthWords(machine.inches).mm(Math.round(start))} from its start.
        What the knife has cut already of bite {bite} it cuts once more in its own track, as long as
        the roll has not moved. The bites after it are then run one by one as well.
      </p>
      <div class="actions">
        {work.bites.slice(bite - 1).map((_, i) => (
          <ProgramLink
            folder={folder}
            roll={key}
            which={bite + i}
            words={`Bite ${bite + i} alone`}
            isFirst={i === 0}
          />
        ))}
      </div>
    </>
  );
}
