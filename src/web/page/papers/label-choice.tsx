import type { JSX } from 'preact';
import { useId, useState } from 'preact/hooks';
import type { RunPapers } from '../../api/papers.ts';
import { Tick } from '../controls/fields.tsx';
import { withOrWithout } from '../with-or-without.ts';
import { counted } from '../words.ts';
import type { PrintChoice } from './choice.ts';
import { printedLabels } from './choice.ts';

/** Which labels are printed, and from which place of a sheet that is used in part. */
export function LabelChoice({
  papers,
  choice,
  change,
}: {
  papers: RunPapers;
  choice: PrintChoice;
  change: (part: Partial<PrintChoice>) => void;
}): JSX.Element {
  const count = printedLabels(papers, choice).length;
  const words =
    count === papers.labels.length
      ? `All ${counted(count, 'label')}`
      : `${count} of ${counted(papers.labels.length, 'label')}`;
  const from = choice.begin === 0 ? '' : `, from place ${choice.begin + 1}`;
  return (
    <details class="label-choice">
      <summary>
        {words}
        {from}: choose
      </summary>
      <LabelTicks papers={papers} choice={choice} change={change} />
      <FirstPlace papers={papers} choice={choice} change={change} />
    </details>
  );
}

type LabelProps = Parameters<typeof LabelChoice>[0];

function LabelTicks({ papers, choice, change }: LabelProps): JSX.Element {
  const id = useId();
  const [typed, setTyped] = useState('');
  const listed = papers.labels.flatMap(({ label, order }, number) =>
    choice.orders.has(order) && label.toLowerCase().includes(typed.trim().toLowerCase())
      ? [{ label, number }]
      : [],
  );
  const tickAll = (isIn: boolean): void => {
    const left = new Set(choice.leftLabels);
    for (const { number } of listed) {
      if (isIn) left.delete(number);
      else left.add(number);
    }
    change({ leftLabels: left });
  };
  return (
    <>
      <div class="field">
        <label for={id}>Find a part</label>
        <input
          id={id}
          type="search"
          autocomplete="off"
          value={typed}
          onInput={(event) => setTyped(event.currentTarget.value)}
        />
      </div>
      <div class="actions">
        <button class="button" onClick={() => tickAll(true)}>
          Tick {listed.length}
        </button>
        <button class="button" onClick={() => tickAll(false)}>
          Untick {listed.length}
        </button>
      </div>
      <fieldset class="label-ticks">
        <legend class="unseen">Labels of parts</legend>
        {listed.map(({ label, number }) => (
          <Tick
            key={label}
            label={label}
            checked={!choice.leftLabels.has(number)}
            onChange={(isIn) =>
              change({ leftLabels: withOrWithout(choice.leftLabels, number, !isIn) })
            }
          />
        ))}
        {listed.length === 0 && <p class="quiet">No part of these orders is called so.</p>}
      </fieldset>
    </>
  );
}

/** A sheet of labels: the first free place is chosen, so that a half-used sheet is used up. */
function FirstPlace({ papers, choice, change }: LabelProps): JSX.Element {
  const name = useId();
  const { title, columns, rows } = papers.labelSheet;
  const places = Array.from({ length: columns * rows }, (_, i) => i);
  const end = choice.begin + printedLabels(papers, choice).length;
  return (
    <fieldset class="label-sheet">
      <legend>First free place on the sheet ({title})</legend>
      <div style={{ '--columns': columns }}>
        {places.map((place) => (
          <label class={place < choice.begin ? 'used' : place < end ? 'filled' : ''}>
            <input
              type="radio"
              name={name}
              checked={place === choice.begin}
              onChange={() => change({ begin: place })}
            />
            <span>{place < choice.begin ? 'used' : place + 1}</span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}
