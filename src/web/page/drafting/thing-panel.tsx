import type { JSX } from 'preact';
import type { Role } from '../../../pattern/layers.ts';
import type { PieceView } from '../../../drafting/view.ts';
import { Choices, NumberField, Select } from '../controls/fields.tsx';
import type { DraftEdit } from '../server/calls.ts';
import { counted } from '../words.ts';
import { freePieceName } from './free-name.ts';
import { meaningWords, roleWords } from './meanings.ts';

/** Meanings of lines, in the order in which they are offered. */
const offered: readonly Role[] = [
  'CUTOUT',
  'HOLE',
  'NOTCH',
  'FOLD',
  'STITCH',
  'MARK',
  'PAD',
  'PILE',
  'AXIS',
  'BOUND',
  'SEAM',
  'TUCK',
  'TURNED',
  'RAW',
  'NOTE',
  'OUTLINE',
];

const follows = [
  { value: '', words: 'the piece' },
  { value: 'DRIVER', words: 'the driver' },
  { value: 'PASSENGER', words: 'the passenger' },
  { value: 'LEFT', words: 'the left side' },
  { value: 'RIGHT', words: 'the right side' },
] as const;

/** What is chosen on a piece: what it is, whom it follows, and where it goes. */
export function ThingPanel({
  piece,
  things,
  pieces,
  edit,
  onDone,
}: {
  readonly piece: PieceView;
  readonly things: readonly number[];
  /** The names of all pieces. */
  readonly pieces: readonly string[];
  readonly edit: (edit: DraftEdit) => Promise<boolean>;
  /** Nothing is chosen any more. */
  readonly onDone: () => void;
}): JSX.Element {
  const own = piece.things.filter(({ index }) => things.includes(index));
  const [first] = own;
  const means = first?.means ?? null;
  const isAlike = own.every((one) => one.means === means);
  const [role = '', ...words] = isAlike && means !== null ? means.split('-') : [];
  const person = follows.find(({ value }) => value === words[0])?.value ?? '';
  const options = (person === '' ? words : words.slice(1)).join('-');
  const { block } = piece;
  const mean = (nextRole: string, nextPerson: string): void => {
    const next = [nextRole, nextPerson, options].filter((one) => one !== '').join('-');
    void edit({ kind: 'mean', block, things: [...things], means: next });
  };
  const isClosed = own.length === 1 && first!.isClosed;
  return (
    <section class="pane thing-panel" aria-labelledby="thing-title">
      <h3 id="thing-title">
        {own.length === 1 ? capital(first!.words) : `${counted(own.length, 'thing')} chosen`}
      </h3>
      <p class="quiet">
        {isAlike
          ? `${capital(meaningWords(means))}${means === null ? `; on layer ${first?.layer ?? ''}` : ''}.`
          : 'Different things.'}
      </p>
      <div class="meaning-buttons" role="group" aria-label="What is it?">
        {offered.map((one) => (
          <button class="button" aria-pressed={role === one} onClick={() => mean(one, person)}>
            {capital(roleWords[one])}
          </button>
        ))}
      </div>
      {isAlike && means !== null && role !== 'NOTE' && role !== 'OUTLINE' && (
        <Choices
          label="It goes with"
          value={person}
          choices={follows}
          onChange={(next) => mean(role, next)}
        />
      )}
      {own.length > 0 && (
        <div class="row">
          <MoveBy
            label="To the right"
            onMove={(by) => void edit({ kind: 'move', block, things: [...things], by: [by, 0] })}
          />
          <MoveBy
            label="Up"
            onMove={(by) => void edit({ kind: 'move', block, things: [...things], by: [0, by] })}
          />
        </div>
      )}
      <Select
        label="It belongs to another piece"
        value=""
        choices={[
          { value: '', words: 'no, it is of this one' },
          ...pieces.filter((one) => one !== piece.name).map((one) => ({ value: one, words: one })),
        ]}
        onChange={(to) => {
          if (to !== '')
            void edit({ kind: 'give', block, things: [...things], piece: to }).then(onDone);
        }}
      />
      <div class="actions">
        <button
          class="button"
          onClick={() => void edit({ kind: 'remove', block, things: [...things] }).then(onDone)}
        >
          Take off the piece
        </button>
        {isClosed && (
          <button
            class="button"
            onClick={() =>
              void edit({
                kind: 'begin-piece',
                block,
                outline: first!.index,
                piece: freePieceName(pieces),
              }).then(onDone)
            }
          >
            It is a piece of its own
          </button>
        )}
        <button class="button" onClick={onDone}>
          Done
        </button>
      </div>
    </section>
  );
}

function MoveBy({
  label,
  onMove,
}: {
  readonly label: string;
  readonly onMove: (by: number) => void;
}): JSX.Element {
  return (
    <NumberField
      label={label}
      value={null}
      unit="mm"
      min={-10_000}
      max={10_000}
      optional
      onChange={(by) => {
        if (by !== null && by !== 0) onMove(by);
      }}
    />
  );
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
