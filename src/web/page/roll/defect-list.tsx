import type { JSX } from 'preact';
import { useRef, useState } from 'preact/hooks';
import type { RollEntry } from '../../../run/run-file.ts';
import { NumberField } from '../controls/fields.tsx';
import { extent, rectangleAt } from './rolls.ts';

type Defects = RollEntry['defects'];

/** The defects of a roll in figures, and one more to be typed. */
export function DefectList({
  defects,
  width,
  onChange,
}: {
  defects: Defects;
  /** The width of the roll, mm. */
  width: number;
  onChange: (defects: Defects) => void;
}): JSX.Element {
  return (
    <>
      <ul class="defects" role="list" aria-label="Defects of this roll">
        {defects.map((corners, i) => {
          const { along, across, long, wide } = extent(corners);
          return (
            <li>
              <span>
                {Math.round(along)} mm from the start, {Math.round(across)} mm from the edge:{' '}
                {Math.round(long)} × {Math.round(wide)} mm
                {corners.length === 4 ? '' : `, ${corners.length} corners`}
              </span>
              <button
                class="button"
                aria-label={`Remove the defect at ${Math.round(along)} mm`}
                onClick={() => onChange(defects.filter((_, k) => k !== i))}
              >
                Remove
              </button>
            </li>
          );
        })}
      </ul>
      {defects.length === 0 && <p class="quiet">None marked.</p>}
      <TypedDefect width={width} onAdd={(corners) => onChange([...defects, corners])} />
    </>
  );
}

function TypedDefect({
  width,
  onAdd,
}: {
  width: number;
  onAdd: (corners: [number, number][]) => void;
}): JSX.Element {
  const [along, setAlong] = useState<number | null>(null);
  const [across, setAcross] = useState<number | null>(null);
  const [long, setLong] = useState<number | null>(null);
  const [wide, setWide] = useState<number | null>(null);
  const isWhole = along !== null && across !== null && long !== null && wide !== null;
  const figures = useRef<HTMLDivElement>(null);
  const [missing, setMissing] = useState('');
  // The button is never disabled: the figure typed last is known only once its field is left.
  const add = (): void => {
    const wrong = figures.current!.querySelector<HTMLInputElement>('[aria-invalid="true"]');
    if (wrong !== null) {
      setMissing('A figure is not taken yet: its reason stands below it.');
      return wrong.focus();
    }
    setMissing(isWhole ? '' : 'A defect needs all four figures.');
    if (!isWhole) return;
    onAdd(rectangleAt(along, across, long, wide));
    setAlong(null);
    setAcross(null);
    setLong(null);
    setWide(null);
  };
  return (
    <details>
      <summary>Type a defect</summary>
      <div class="stack">
        <div class="row" ref={figures}>
          <NumberField
            label="From the start"
            unit="mm"
            value={along}
            min={0}
            max={1e6}
            optional
            onChange={setAlong}
          />
          <NumberField
            label="From the edge"
            unit="mm"
            value={across}
            min={0}
            max={width}
            optional
            onChange={setAcross}
          />
          <NumberField
            label="Long"
            unit="mm"
            value={long}
            min={1}
            max={1e5}
            optional
            onChange={setLong}
          />
          <NumberField
            label="Wide"
            unit="mm"
            value={wide}
            min={1}
            max={width}
            optional
            onChange={setWide}
          />
        </div>
        <p class="quiet">
          The edge is the one at the bottom of the picture: on the right of whoever stands at the
          start and looks along the roll, pile up.
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
