import type { JSX } from 'preact';
import { useRef, useState } from 'preact/hooks';
import type { RollEntry } from '../../../run/run-file.ts';
import type { MaterialCard } from '../../api/shop.ts';
import { NumberField } from '../controls/fields.tsx';
import { goToUntaken, untakenWords } from '../controls/untaken.ts';
import type { MeasuredWidth } from './measured.ts';
import { narrowest, openEnds, outlineThrough, widthsOf, wrongWidths } from './measured.ts';
import { saidOrKnown } from './rolls.ts';

/** Several widths along a roll that is not equally wide, and what becomes of them: one width, or the line of its edge. */
export function MeasuredWidths({
  material,
  roll,
  onChange,
}: {
  readonly material: MaterialCard;
  readonly roll: RollEntry;
  readonly onChange: (roll: RollEntry) => void;
}): JSX.Element {
  const { length, selvedge, width } = saidOrKnown(roll, material);
  const [widths, setWidths] = useState<readonly MeasuredWidth[]>(() =>
    widthsOf(roll.outline, selvedge),
  );
  const [along, setAlong] = useState<number | null>(null);
  const [wide, setWide] = useState<number | null>(null);
  const [said, setSaid] = useState('');
  const fields = useRef<HTMLDivElement>(null);
  const add = (): void => {
    if (goToUntaken(fields.current!)) return setSaid(untakenWords);
    if (along === null || wide === null) {
      return setSaid('A measurement needs its place and its width.');
    }
    setSaid('');
    setWidths([...widths, { along, width: wide }].toSorted((a, b) => a.along - b.along));
    setAlong(null);
    setWide(null);
  };
  const take = (act: () => RollEntry, words: string): void => {
    const wrong = wrongWidths(widths, length);
    setSaid(wrong === '' ? words : wrong);
    if (wrong === '') onChange(act());
  };
  const { outline: _, ...plain } = roll;
  const isLine = widthsOf(roll.outline, selvedge).length > 0;
  const hasOwnShape = roll.outline !== undefined && !isLine;
  return (
    <details open={widths.length > 0}>
      <summary>Not equally wide: widths as measured{isLine && ' (its edge is a line)'}</summary>
      <div class="stack">
        <ul class="stock" role="list" aria-label="Widths as measured">
          {widths.map((one) => (
            <li>
              <span>
                {one.width} mm wide at {one.along} mm
              </span>
              <button
                class="button"
                aria-label={`Remove the width at ${one.along} mm`}
                onClick={() => setWidths(widths.filter((other) => other !== one))}
              >
                Remove
              </button>
            </li>
          ))}
        </ul>
        <div class="row" ref={fields}>
          <NumberField
            label="Measured at"
            unit="mm"
            hint="From the start of the roll"
            value={along}
            min={0}
            max={length ?? 1e6}
            optional
            onChange={setAlong}
          />
          <NumberField
            label="Width there"
            unit="mm"
            hint="From edge to edge"
            value={wide}
            min={2 * selvedge + 100}
            max={6000}
            optional
            onChange={setWide}
          />
        </div>
        <div class="actions">
          <button class="button" onClick={add}>
            Add the width
          </button>
          <button
            class="button"
            onClick={() =>
              take(() => ({ ...(isLine ? plain : roll), width: narrowest(widths) }), '')
            }
          >
            Take the narrowest as its width
          </button>
          <button
            class="button"
            onClick={() => {
              if (length === null) return setSaid('Say first how long the roll is.');
              const open = openEnds(widths, length);
              if (open !== '') return setSaid(open);
              if (hasOwnShape) return setSaid('This remnant has a shape of its own, which rules.');
              take(
                () => ({
                  ...plain,
                  width: Math.ceil(Math.max(...widths.map((one) => one.width))),
                  outline: outlineThrough(widths, length, selvedge),
                }),
                '',
              );
            }}
          >
            Let parts lie up to the line
          </button>
          {isLine && (
            <button class="button" onClick={() => onChange({ ...plain, width })}>
              Take the line away
            </button>
          )}
        </div>
        <p role="status">{said === '' ? takenWords(widths, roll, selvedge) : said}</p>
      </div>
    </details>
  );
}

/** What becomes of widths that were measured; until somebody has chosen, that they count for nothing. */
function takenWords(widths: readonly MeasuredWidth[], roll: RollEntry, selvedge: number): string {
  if (widths.length < 2) return '';
  const line = widthsOf(roll.outline, selvedge);
  const isLine = widths.every(({ along, width }) =>
    line.some(
      (one) => one.along === along && one.width === Math.floor(width - selvedge) + selvedge,
    ),
  );
  if (isLine) return 'Parts may lie up to the line through the widths, less the selvedge.';
  if (roll.width === narrowest(widths)) {
    return `The roll is taken to be ${roll.width} mm wide all along.`;
  }
  return 'These widths count for nothing yet: choose what they mean.';
}
