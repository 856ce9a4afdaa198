import type { JSX } from 'preact';
import type { RollEntry } from '../../../run/run-file.ts';
import { defectWords } from './defect-words.ts';
import { TypedDefect } from './typed-defect.tsx';

type Defects = RollEntry['defects'];

/** The defects of a roll in figures, and one more to be typed. */
export function DefectList({
  defects,
  width,
  length,
  onChange,
}: {
  defects: Defects;
  /** The width of the roll, mm. */
  width: number;
  /** null: it is not said. */
  length: number | null;
  onChange: (defects: Defects) => void;
}): JSX.Element {
  return (
    <>
      <ul class="defects" role="list" aria-label="Defects of this roll">
        {defects.map((corners, i) => {
          const words = defectWords(corners);
          return (
            <li>
              <span>{words}</span>
              <button
                class="button"
                aria-label={`Remove the defect: ${words}`}
                onClick={() => onChange(defects.filter((_, k) => k !== i))}
              >
                Remove
              </button>
            </li>
          );
        })}
      </ul>
      {defects.length === 0 && <p class="quiet">None marked.</p>}
      <TypedDefect
        width={width}
        length={length}
        onAdd={(corners) => onChange([...defects, corners])}
      />
    </>
  );
}
