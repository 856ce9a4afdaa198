import type { JSX } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import type { PieceView } from '../../../drafting/view.ts';
import { canFollow } from '../../../pattern/words.ts';
import { NumberField, Select } from '../controls/fields.tsx';
import type { SentEdit } from '../server/calls.ts';
import { capital, counted } from '../words.ts';
import { freePieceName } from './free-name.ts';
import { meaningFrom, partsOf } from '../meaning-parts.ts';
import { GoesWith } from './hands/goes-with.tsx';
import { saidWords } from '../meanings.ts';
import { CopyThings } from './things/copy-things.tsx';
import { TextOffers } from './things/text-offers.tsx';
import type { AnsweredThings } from './things/what-is-it.tsx';
import { WhatIsIt } from './things/what-is-it.tsx';

/** What is chosen on a piece: what it is, whom it follows, and where it goes. */
export function ThingPanel({
  piece,
  things,
  pieces,
  views,
  set,
  version,
  edit,
  onDone,
}: {
  readonly set: string;
  readonly version: string;
  /** All pieces of the set. */
  readonly views: ReadonlyMap<string, PieceView>;
  readonly piece: PieceView;
  readonly things: readonly number[];
  /** The names of all pieces. */
  readonly pieces: readonly string[];
  readonly edit: (edit: SentEdit) => Promise<boolean>;
  /** Nothing is chosen any more. */
  readonly onDone: () => void;
}): JSX.Element {
  const own = piece.things.filter(({ index }) => things.includes(index));
  const [first] = own;
  const means = first?.means ?? null;
  const isAlike = own.every((one) => one.means === means);
  const parts = partsOf(isAlike && means !== null ? means : '');
  const { role } = parts;
  const { block } = piece;
  const following = own.filter((one) => one.role !== null && canFollow(one.role));
  const mean = (next: string, whose: readonly AnsweredThings[]): void => {
    const [one, ...also] = whose.map((each) => ({ block: each.block, things: [...each.things] }));
    const rest = also.length === 0 ? {} : { also };
    void edit({ kind: 'mean', ...one!, means: next, ...rest });
  };
  const isClosed = own.length === 1 && first!.isClosed;
  const panel = useRef<HTMLElement>(null);
  /** The line of a list in which it was chosen by a key. */
  const from = useRef<HTMLElement | null>(null);
  // What was chosen in a list far below is asked about above it.
  useEffect(() => {
    panel.current?.scrollIntoView({ block: 'start' });
    const line = document.activeElement;
    if (!(line instanceof HTMLElement) || !line.matches('.thing-line')) return;
    from.current = line;
    panel.current?.focus({ preventScroll: true });
  }, [piece.name, things.join()]);
  const leave = (): void => {
    from.current?.focus();
    onDone();
  };
  return (
    <section
      class="pane thing-panel"
      aria-labelledby="thing-title"
      ref={panel}
      tabindex={-1}
      onKeyDown={({ key }) => {
        if (key === 'Escape') leave();
      }}
    >
      <h3 id="thing-title">
        {own.length === 1 ? capital(first!.words) : `${counted(own.length, 'thing')} chosen`}
      </h3>
      <p class="quiet">
        {isAlike
          ? `${capital(saidWords(means))}${means === null ? `; on layer ${first?.layer ?? ''}` : ''}.`
          : 'Different things.'}
      </p>
      {own.length === 1 && first!.text !== null && (
        <TextOffers
          piece={piece}
          words={first!.text.words}
          names={pieces}
          onDo={(one) => void edit(one)}
        />
      )}
      <WhatIsIt
        piece={piece}
        own={own}
        role={role}
        pieces={views}
        onMean={(one, whose) => mean(meaningFrom({ ...parts, role: one }), whose)}
      />
      {following.length > 0 && (
        <GoesWith
          set={set}
          version={version}
          piece={piece.name}
          things={following}
          othersCount={own.length - following.length}
          onChoose={(follows) =>
            void edit({
              kind: 'follow',
              piece: piece.name,
              things: following.map(({ index }) => index),
              follows,
            })
          }
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
      <CopyThings piece={piece} things={things} edit={edit} />
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
        <button class="button" onClick={leave}>
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
