import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { Finding } from '../../../base/findings.ts';
import type { Units } from '../../../drawing/drawing.ts';
import type { SetFromDrawing } from '../../api/sets.ts';
import { addressOf } from '../address.ts';
import type { Option } from '../controls/fields.tsx';
import { Select, TextField } from '../controls/fields.tsx';
import { Findings } from '../controls/findings.tsx';
import { calls } from '../server/calls.ts';
import { findingsToShow } from '../server/client.ts';
import { useLoaded } from '../use-loaded.ts';
import { counted, fileName } from '../words.ts';
import { questionWords } from './question.ts';

/** The pattern sets of the shop, and how a drawing becomes one. */
export function SetsView(): JSX.Element {
  const shop = useLoaded(() => calls.shop(), []);
  return (
    <div class="view">
      <h1>Sets</h1>
      <Findings findings={[...shop.findings, ...(shop.value?.findings ?? [])]} />
      <ul class="cards" role="list">
        {(shop.value?.sets ?? []).map(({ name, title, drawn, pieces, colours }) => (
          <li class="card">
            <h2>
              <a href={addressOf('sets', name)}>{title}</a>
            </h2>
            <p class="quiet">patterns/{name}</p>
            <p>
              {counted(pieces.length, 'piece')}, drawn for {drawn}
              {colours !== null && `; bound in ${colours.join(', ')}`}
            </p>
            <a class="button" href={addressOf('sets', name)}>
              Check
            </a>
          </li>
        ))}
      </ul>
      <Import onDone={shop.reload} />
    </div>
  );
}

const units: readonly Option<Units | ''>[] = [
  { value: '', words: 'As the drawing says' },
  { value: 'mm', words: 'Millimetres' },
  { value: 'in', words: 'Inches' },
  { value: 'cm', words: 'Centimetres' },
  { value: 'm', words: 'Metres' },
];

/** What somebody must still answer about a set or a piece. */
function Asked({ questions }: { questions: SetFromDrawing['asked'] }): JSX.Element | null {
  if (questions.length === 0) return null;
  return (
    <ul class="quiet" role="list">
      {questions.map((one) => (
        <li>{questionWords(one)}</li>
      ))}
    </ul>
  );
}

/** A drawing goes in, and a first set comes out with what is asked about it. */
function Import({ onDone }: { onDone: () => void }): JSX.Element {
  const [drawing, setDrawing] = useState<File | null>(null);
  const [name, setName] = useState('');
  const [unit, setUnit] = useState<Units | ''>('');
  const [isBusy, setBusy] = useState(false);
  const [made, setMade] = useState<SetFromDrawing | null>(null);
  const [findings, setFindings] = useState<readonly Finding[]>([]);
  const take = (file: File | null): void => {
    setDrawing(file);
    if (file !== null && name === '') setName(fileName(file.name.replace(/\.[^.]*$/, '')));
  };
  const bring = async (): Promise<void> => {
    setBusy(true);
    setMade(null);
    setFindings([]);
    try {
      const imported = await calls.sendDrawing(
        name,
        unit === '' ? undefined : unit,
        await drawing!.arrayBuffer(),
      );
      setMade(imported);
      setFindings(imported.findings);
      onDone();
    } catch (error) {
      setFindings(findingsToShow(error));
    }
    setBusy(false);
  };
  return (
    <section class="pane" aria-labelledby="import-title">
      <h2 id="import-title">A drawing as it comes</h2>
      <form
        class="stack narrow"
        onSubmit={(event) => {
          event.preventDefault();
          void bring();
        }}
      >
        <div class="field">
          <label for="drawing">Drawing (DXF)</label>
          <input
            id="drawing"
            type="file"
            accept=".dxf,.DXF"
            onChange={(event) => take(event.currentTarget.files?.[0] ?? null)}
          />
        </div>
        <TextField
          label="Name of the set"
          value={name}
          fits={(text) => /^[a-z0-9]+(-[a-z0-9]+)*$/.test(text)}
          wrongWords="Small letters, digits and single hyphens."
          onChange={setName}
        />
        <Select label="Units" value={unit} choices={units} onChange={setUnit} />
        <div>
          <button class="button accent" disabled={drawing === null || name === '' || isBusy}>
            {isBusy ? 'Reading …' : 'Make a first set'}
          </button>
        </div>
      </form>
      <div role="status">
        {made !== null && (
          <>
            <p>
              Made patterns/{made.set}, "{made.title}", with {counted(made.pieces.length, 'piece')}.
              Nothing of it is cut until you have answered, in its set.yaml, what is asked here:
              correct a value where it is wrong, then take its line out of "open:". Check shows what
              is left.
            </p>
            {made.asked.length > 0 && (
              <>
                <p>About the set:</p>
                <Asked questions={made.asked} />
              </>
            )}
            <ul role="list" class="names">
              {made.pieces.map((piece) => (
                <li>
                  {piece.name}: {piece.side}, {piece.quantity} of {piece.material}
                  <Asked questions={piece.asked} />
                </li>
              ))}
            </ul>
            <a class="button" href={addressOf('sets', made.set)}>
              Check {made.set}
            </a>
          </>
        )}
      </div>
      <Findings findings={findings} />
    </section>
  );
}
