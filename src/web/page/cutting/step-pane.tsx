import type { ComponentChildren, JSX } from 'preact';
import type { CutStep } from '../../api/cut-steps.ts';
import { biteInStep } from '../../api/cut-steps.ts';
import type { RunFolder } from '../../api/files.ts';
import type { Shop } from '../../api/shop.ts';
import { addressOf } from '../address.ts';
import { fileAddress } from '../server/calls.ts';
import { counted } from '../words.ts';
import { BitePicture } from './bite-picture.tsx';
import { ProgramLink } from './program-link.tsx';
import { Recuts } from './recuts.tsx';
import { SpoiltParts } from './spoilt-parts.tsx';
import type { RollAtMachine } from './step-words.ts';
import { loadFacts, stepWords } from './step-words.ts';

/** One step, large: what it is called, what is to be done, its picture and its files; the buttons stand below. */
export function StepPane({
  folder,
  shop,
  at,
  step,
  note,
  children,
}: {
  folder: RunFolder;
  shop: Shop | null;
  at: RollAtMachine;
  /** null: all steps of the roll are ticked. */
  step: CutStep | null;
  /** What is said above it; null: nothing. */
  note: string | null;
  children: ComponentChildren;
}): JSX.Element {
  const { title, lines } = step === null ? doneWords(at) : stepWords(step, at);
  const [first, ...others] = lines;
  const bite = step === null ? null : biteInStep(step);
  return (
    <div class="step-pane">
      <div class="step-words" tabIndex={-1}>
        {note !== null && <p class="step-note">{note}</p>}
        <h2 class="step-title">{title}</h2>
        {first !== undefined && <p class="step-first">{first}</p>}
        {others.length > 0 && <p class="step-line">{others.join(' ')}</p>}
        <div class="actions step-files">
          {step !== null && (
            <StepFiles folder={folder} at={at} step={step} isAgain={note !== null} />
          )}
        </div>
      </div>
      {step === 'load' && <LoadFacts at={at} />}
      {step === 'parts' && <OrderCounts folder={folder} at={at} />}
      {step === 'parts' && <Recuts folder={folder} shop={shop} />}
      {step === 'parts' ? (
        <SpoiltParts key={at.key} folder={folder} shop={shop} at={at} />
      ) : (
        <div class="step-picture">
          {step !== 'rest' && <BitePicture at={at} parts={partsOn(folder, at)} bite={bite} />}
        </div>
      )}
      <div class="step-buttons">{children}</div>
    </div>
  );
}

function doneWords({ key }: RollAtMachine): { title: string; lines: readonly string[] } {
  return { title: `${key} is done`, lines: ['It is cut, and all its parts are there.'] };
}

/** The parts of a run that lie on a roll. */
function partsOn({ parts }: RunFolder, { lay }: RollAtMachine): RunFolder['parts'] {
  const labels = new Set(lay.placements.map(({ label }) => label));
  return parts.filter(({ label }) => labels.has(label));
}

/** What is loaded into the machine or printed for a step. */
function StepFiles({
  folder,
  at,
  step,
  isAgain,
}: {
  folder: RunFolder;
  at: RollAtMachine;
  step: CutStep;
  /** Whether the roll was begun before. */
  isAgain: boolean;
}): JSX.Element | null {
  const bite = biteInStep(step);
  if (step === 'dry') {
    return (
      <ProgramLink
        folder={folder}
        roll={at.key}
        which="dry"
        words="Dry program, knife up"
        isFirst
      />
    );
  }
  if (step === 'labels') {
    const labels = folder.files.find(({ name }) => name === 'labels.pdf');
    if (labels === undefined) return null;
    return (
      <a
        class="button strong-frame"
        href={fileAddress(folder.name, labels.name)}
        target="_blank"
        rel="noopener"
      >
        Print the labels
      </a>
    );
  }
  if (bite === null) return null;
  const isAlone = isAgain && bite > 1;
  return (
    <>
      <ProgramLink
        folder={folder}
        roll={at.key}
        which="whole"
        words={at.work.bites.length === 1 ? 'Program' : 'Program, all bites'}
        isFirst={!isAlone}
      />
      <ProgramLink
        folder={folder}
        roll={at.key}
        which={bite}
        words={`Bite ${bite} alone, to begin again`}
        isFirst={isAlone}
      />
      <a class="button" href={addressOf('out', folder.name, 'rehearsal')}>
        Watch the knife
      </a>
    </>
  );
}

/** What is loaded, to be held against what is on the machine. */
function LoadFacts({ at }: { at: RollAtMachine }): JSX.Element {
  return (
    <dl class="load-facts">
      {loadFacts(at).map(([name, words]) => (
        <div>
          <dt>{name}</dt>
          <dd>
            {name === 'Colour' && at.roll.sample !== null && (
              <span class="load-sample" style={{ background: at.roll.sample }} aria-hidden="true" />
            )}
            {words}
          </dd>
        </div>
      ))}
    </dl>
  );
}

/** How many parts of each order lie on a roll. */
function OrderCounts({ folder, at }: { folder: RunFolder; at: RollAtMachine }): JSX.Element {
  const counts = new Map<string, number>();
  for (const { order } of partsOn(folder, at)) counts.set(order, (counts.get(order) ?? 0) + 1);
  return (
    <ul class="order-counts" role="list" aria-label="Parts by order">
      {[...counts].map(([order, count]) => (
        <li>
          <strong>{order}</strong> {counted(count, 'part')}
        </li>
      ))}
    </ul>
  );
}
