import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type {
  Fate,
  OverlayRow,
  OverlaySheet,
} from '../../../papers/pictures/compare/overlay-rows.ts';
import { Choices } from '../controls/fields.tsx';

type Shown = 'both' | 'before' | 'after';

/** What is drawn, from what lies below to what lies on top. */
const drawnIn: Readonly<Record<Shown, readonly Fate[]>> = {
  both: ['same', 'was', 'gone', 'is', 'new'],
  before: ['same', 'was', 'gone'],
  after: ['same', 'is', 'new'],
};

/** Both runs over each other, a roll at a time; by a switch one of them alone. */
export function BothOver({
  sheets,
  before,
  after,
}: {
  sheets: readonly OverlaySheet[];
  before: string;
  after: string;
}): JSX.Element {
  const [shown, setShown] = useState<Shown>('both');
  const [chosen, setChosen] = useState('');
  const sheet = sheets.find((one) => one.sheet === chosen) ?? sheets[0]!;
  const fates = drawnIn[shown].filter((fate) => sheet.rows.some(({ paths }) => paths[fate] !== ''));
  const words: Readonly<Record<Fate, string>> = {
    same: 'the same in both',
    gone: `only in ${before}`,
    was: `as in ${before}`,
    new: `only in ${after}`,
    is: `as in ${after}`,
  };
  return (
    <section class="overlay" aria-label="Both over each other">
      {sheets.length > 1 && (
        <Choices
          label="Roll"
          value={sheet.sheet}
          choices={sheets.map((one) => ({ value: one.sheet, words: one.sheet }))}
          onChange={setChosen}
        />
      )}
      <div class="overlay-bar">
        <Choices
          label="Show"
          value={shown}
          choices={[
            { value: 'both', words: 'Both' },
            { value: 'before', words: before },
            { value: 'after', words: after },
          ]}
          onChange={setShown}
        />
        <ul class="overlay-key" role="list" aria-label="Key of the picture">
          {fates.map((fate) => (
            <li>
              <svg viewBox="0 0 40 20" aria-hidden="true">
                <path class={fate} d="M3 3H37V17H3Z" />
              </svg>
              {words[fate]}
            </li>
          ))}
        </ul>
      </div>
      {sheet.rows.map((row, i) => (
        <Row
          row={row}
          fates={fates}
          name={`${sheet.sheet}${sheet.rows.length === 1 ? '' : `, stretch ${i + 1} of ${sheet.rows.length}`}`}
        />
      ))}
    </section>
  );
}

function Row({
  row: { x, width, height, type, paths, names },
  fates,
  name,
}: {
  row: OverlayRow;
  fates: readonly Fate[];
  name: string;
}): JSX.Element {
  const said = names.filter(({ fate }) => fates.includes(fate) && fate !== 'was');
  return (
    <svg
      class="overlay-row"
      viewBox={`${x} 0 ${width} ${height}`}
      role="img"
      aria-label={`${name}: what differs is told in the lines below`}
    >
      {fates.map((fate) => (
        <path class={fate} d={paths[fate]} />
      ))}
      {said.map((one) => (
        <text x={one.x} y={one.y} font-size={type} stroke-width={type / 5}>
          {one.text}
        </text>
      ))}
    </svg>
  );
}
