import type { JSX } from 'preact';
import type { Units } from '../../../../drawing/drawing.ts';
import type { DrawingSight } from '../../../api/sight.ts';
import { figure } from './sizes.ts';

const words: Readonly<Record<Units, string>> = {
  mm: 'Millimetres',
  in: 'Inches',
  cm: 'Centimetres',
  m: 'Metres',
};

const sources: Readonly<Record<DrawingSight['units']['from'], string>> = {
  square: 'its check square',
  header: 'the drawing',
  text: 'a text in it',
  set: 'the set',
  option: 'you',
  assumed: 'nobody',
};

/**
 * Which units the drawing is in, where nothing says so or the size is strange: two large choices with the
 * size that the largest piece would have, and the other units below.
 */
export function UnitsQuestion({
  units,
  chosen,
  onChoose,
}: {
  readonly units: DrawingSight['units'];
  readonly chosen: Units | null;
  readonly onChoose: (units: Units | null) => void;
}): JSX.Element {
  const [first, second, ...others] = units.sizes;
  const isAsked = units.asked !== null || chosen !== null;
  if (!isAsked) {
    return (
      <p class="quiet">
        In {words[units.are].toLowerCase()}, as {sources[units.from]} says.{' '}
        <button class="link-button" onClick={() => onChoose(units.are)}>
          It is in other units
        </button>
      </p>
    );
  }
  const what = first!.largest === null ? 'the drawing' : 'the largest piece';
  return (
    <fieldset class="units-question">
      <legend>
        <h2>
          {units.asked === 'doubtful'
            ? `No piece of carpet is so large or so small. How long is ${what}?`
            : `How long is ${what}?`}
        </h2>
      </legend>
      {[first!, second!].map((one) => (
        <UnitsChoice
          key={one.units}
          one={one}
          isChosen={chosen === one.units}
          onChoose={onChoose}
        />
      ))}
      <details>
        <summary>Neither: it is in other units</summary>
        {others.map((one) => (
          <UnitsChoice
            key={one.units}
            one={one}
            isChosen={chosen === one.units}
            onChoose={onChoose}
          />
        ))}
      </details>
      {chosen === null && units.asked === 'doubtful' && (
        <p class="quiet">
          It is read in {words[units.are].toLowerCase()}, as {sources[units.from]} says.
        </p>
      )}
    </fieldset>
  );
}

function UnitsChoice({
  one: { units, whole, largest },
  isChosen,
  onChoose,
}: {
  readonly one: DrawingSight['units']['sizes'][number];
  readonly isChosen: boolean;
  readonly onChoose: (units: Units) => void;
}): JSX.Element {
  const long = Math.max(...(largest ?? whole));
  return (
    <label class={`units-choice${isChosen ? ' chosen' : ''}`}>
      <input type="radio" name="units" checked={isChosen} onChange={() => onChoose(units)} />
      <span class="figure">{lengthWords(long)}</span>
      <span class="quiet">
        {figure(long / 25.4, 1)} in: it is drawn in {words[units].toLowerCase()}
      </span>
    </label>
  );
}

function lengthWords(mm: number): string {
  return mm >= 10_000 ? `${figure(mm / 1000, 0)} m` : `${figure(mm, mm < 100 ? 1 : 0)} mm`;
}
