import type { JSX } from 'preact';
import { useRef, useState } from 'preact/hooks';
import { Choices, NumberField } from '../controls/fields.tsx';
import { goToUntaken, untakenWords } from '../controls/untaken.ts';
import type { DefectCorners, DefectShape } from '../roll-picture/places/defect.ts';
import { lineBetween, ringAround } from '../roll-picture/places/defect.ts';
import { defectLine } from './defect-words.ts';
import { rectangleAt } from './rolls.ts';

/** The figures that say a defect of each shape, in the order in which they are measured. */
const figures: Readonly<Record<DefectShape, readonly string[]>> = {
  box: ['From the start', 'From the edge', 'Long', 'Wide'],
  ring: ['Middle from the start', 'Middle from the edge', 'Across the ring'],
  line: [
    'Begins from the start',
    'Begins from the edge',
    'Ends from the start',
    'Ends from the edge',
  ],
};

function cornersOf(shape: DefectShape, [a, b, c, d]: readonly number[]): DefectCorners {
  if (shape === 'box') return rectangleAt(a!, b!, c!, d!);
  if (shape === 'ring') return ringAround({ x: a!, y: b! }, c! / 2);
  return lineBetween({ x: a!, y: b! }, { x: c!, y: d! }, defectLine);
}

/** A defect that is typed, in the figures of its shape. */
export function TypedDefect({
  width,
  length,
  onAdd,
}: {
  /** The width of the roll, mm. */
  width: number;
  /** How long the roll is, mm; null: it is not said. */
  length: number | null;
  onAdd: (corners: DefectCorners) => void;
}): JSX.Element {
  const [shape, setShape] = useState<DefectShape>('box');
  const [typed, setTyped] = useState<readonly (number | null)[]>([null, null, null, null]);
  const fields = useRef<HTMLDivElement>(null);
  const [missing, setMissing] = useState('');
  const names = figures[shape];
  // The button is never disabled: the figure typed last is known only once its field is left.
  const add = (): void => {
    if (goToUntaken(fields.current!)) return setMissing(untakenWords);
    const known = typed.slice(0, names.length).filter((value) => value !== null);
    const isWhole = known.length === names.length;
    setMissing(isWhole ? '' : `A defect needs all ${names.length} figures.`);
    if (!isWhole) return;
    onAdd(cornersOf(shape, known));
    setTyped([null, null, null, null]);
  };
  const isAcross = (name: string): boolean => name.endsWith('edge') || name === 'Wide';
  return (
    <details>
      <summary>Type a defect</summary>
      <div class="stack">
        <Choices
          label="Its shape"
          value={shape}
          choices={[
            { value: 'box', words: 'Box' },
            { value: 'ring', words: 'Ring' },
            { value: 'line', words: 'Line' },
          ]}
          onChange={(next) => {
            setShape(next as DefectShape);
            setTyped([null, null, null, null]);
          }}
        />
        <div class="row" ref={fields}>
          {names.map((name, i) => (
            <NumberField
              key={`${shape} ${name}`}
              label={name}
              unit="mm"
              value={typed[i] ?? null}
              min={name.includes('from') || name.startsWith('From') ? 0 : 1}
              max={isAcross(name) ? width : (length ?? 1e6)}
              optional
              onChange={(value) => setTyped(typed.map((one, k) => (k === i ? value : one)))}
            />
          ))}
        </div>
        <p class="quiet">
          The edge is the one at the bottom of the picture: on the right of whoever stands at the
          start and looks along the roll, pile up. A line is kept {defectLine} mm wide.
        </p>
        <div>
          <button class="button" onClick={add}>
            Add the defect
          </button>
        </div>
        <p role="status">{missing}</p>
      </div>
    </details>
  );
}
