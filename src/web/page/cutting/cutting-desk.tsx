import type { ComponentChildren, JSX } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { CutStep } from '../../api/cut-steps.ts';
import { nextStep, rollsToCut, stepsOf, tickedOf } from '../../api/cut-steps.ts';
import type { RunFolder } from '../../api/files.ts';
import type { Shop } from '../../api/shop.ts';
import { Findings } from '../controls/findings.tsx';
import { Rack } from '../rack/rack.tsx';
import { useKept } from '../use-kept.ts';
import { AnewPane } from './anew-pane.tsx';
import { EndPane } from './end-pane.tsx';
import { Ladder } from './ladder.tsx';
import { Mishap } from './mishap.tsx';
import { RollFiles } from './roll-files.tsx';
import { rackedRoll, rollsAtMachine } from './rolls-at-machine.ts';
import { rollToShow } from './roll-to-show.ts';
import { StepButtons } from './step-buttons.tsx';
import { StepPane } from './step-pane.tsx';
import { beginAgainWords } from './step-words.ts';
import type { OpenCutting } from './use-cutting.ts';

/** The desk at the machine: the rolls at the left, one step large in the middle, all steps of the roll at the right. */
export function CuttingDesk({
  folder,
  shop,
  cutting,
  children,
}: {
  folder: RunFolder;
  shop: Shop | null;
  cutting: OpenCutting;
  /** What stands below the ladder. */
  children?: ComponentChildren;
}): JSX.Element {
  const [chosen, setChosen] = useState<string | null>(null);
  const [looked, setLooked] = useState<CutStep | null>(null);
  const [shown, setShown] = useState<'step' | 'mishap' | 'files'>('step');
  const [large, setLarge] = useKept('cutting-large', 'no');
  const rolls = rollsToCut(folder);
  const { marks } = cutting;
  const ticks = marks?.ticks ?? [];
  const roll = rollToShow(rolls, ticks, chosen);
  const all = rollsAtMachine(folder);
  const at = all.find(({ key }) => key === roll?.roll) ?? null;
  const next = roll === null ? null : nextStep(roll, ticks);
  const step = looked ?? next;
  // Parts are chosen from near by.
  const isLarge = large === 'yes' && shown === 'step' && step !== null && step !== 'parts';
  // Whoever came back from something else goes on at the button; whoever has just come reads first.
  const hasActed = useRef(false);
  const look = (name: string | null, one: CutStep | null, what: typeof shown): void => {
    hasActed.current = true;
    setChosen(name);
    setLooked(one);
    setShown(what);
  };
  // What somebody looks at was of what came next before.
  useEffect(() => setLooked(null), [roll?.roll, next]);

  const begin = (): void => {
    hasActed.current = true;
    void cutting.begin();
  };

  const middle = (): JSX.Element => {
    if (marks === null) return <p class="quiet">Reading what is cut …</p>;
    if (shown === 'files' && at !== null) {
      return (
        <div class="step-pane scrolls">
          <h2 class="step-title">All files of {at.key}</h2>
          <RollFiles folder={folder} roll={at.key} />
          <BackToWork onBack={() => look(at.key, null, 'step')} />
        </div>
      );
    }
    if (marks.findings.length > 0) return <UnreadMarks onAgain={cutting.reload} />;
    if (marks.before.length > 0) return <AnewPane before={marks.before} onBegin={begin} />;
    if (at === null || roll === null) {
      return (
        <EndPane
          folder={folder}
          shop={shop}
          isBooked={ticks.some((tick) => tick.step === 'rest')}
          onAgain={begin}
        />
      );
    }
    if (shown === 'mishap') {
      return (
        <Mishap
          key={at.key}
          folder={folder}
          shop={shop}
          at={at}
          marks={marks}
          onUndo={(last) => void cutting.untick(at.key, last)}
          onBack={() => look(at.key, null, 'step')}
        />
      );
    }
    const note = cutting.goingOn.has(at.key) ? null : beginAgainWords(at.key, next, ticks);
    return (
      <StepPane
        folder={folder}
        shop={shop}
        at={at}
        step={step}
        note={step === next ? note : null}
        key="step"
      >
        <StepButtons
          folder={folder}
          at={at}
          roll={roll}
          next={next}
          looked={step === next ? null : step}
          ticks={ticks}
          cutting={cutting}
          takesFocus={hasActed.current}
          isLarge={isLarge}
          onTicked={(done) => setChosen(done === stepsOf(roll).at(-1) ? null : at.key)}
          onBack={() => setLooked(null)}
          onWrong={() => look(at.key, looked, 'mishap')}
          onLarge={(on) => setLarge(on ? 'yes' : 'no')}
        />
      </StepPane>
    );
  };
  return (
    <div class={isLarge ? 'cutting-desk large' : 'cutting-desk'}>
      <Rack
        label="Rolls of this run"
        rolls={all.map((one, i) => rackedRoll(one, rolls[i]!, ticks))}
        chosen={roll?.roll ?? ''}
        onChoose={(name) => look(name, null, 'step')}
      />
      <section class="cutting-middle" aria-label="What to do now">
        <Findings findings={[...cutting.findings, ...(marks?.findings ?? [])]} />
        {middle()}
      </section>
      <div class="cutting-side">
        {at !== null && roll !== null && (
          <>
            <Ladder
              at={at}
              steps={stepsOf(roll)}
              ticked={tickedOf(ticks, roll.roll)}
              shown={shown === 'step' ? step : null}
              onLook={(one) => look(at.key, one, 'step')}
            />
            <button class="button" onClick={() => look(at.key, null, 'files')}>
              All files of this roll
            </button>
          </>
        )}
        <p class="caution">
          A cutting file is not a safety function. Guards closed, hands clear; stop and isolate the
          machine before touching a blade. The machine’s manual and local rules come first.
        </p>
        {children}
      </div>
    </div>
  );
}

/** What was ticked cannot be read: nothing is ticked before somebody has mended it. */
function UnreadMarks({ onAgain }: { onAgain: () => void }): JSX.Element {
  return (
    <div class="step-pane scrolls">
      <h2 class="step-title">What is cut cannot be read</h2>
      <p class="step-first">Nothing is ticked before the file is mended. Nothing in it is lost.</p>
      <div class="actions">
        <button class="button accent large" onClick={onAgain}>
          Read it again
        </button>
      </div>
    </div>
  );
}

function BackToWork({ onBack }: { onBack: () => void }): JSX.Element {
  return (
    <div class="actions">
      <button class="button large" onClick={onBack}>
        Back to the work
      </button>
    </div>
  );
}
