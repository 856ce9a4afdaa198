import type { ComponentChildren, JSX } from 'preact';
import { useState } from 'preact/hooks';
import { shortBound } from '../../../base/text-bounds.ts';
import type { PieceView } from '../../../drafting/view.ts';
import type { Shop } from '../../api/shop.ts';
import { Choices, NumberField, Select, TextField, Tick } from '../controls/fields.tsx';
import type { SentEdit } from '../server/calls.ts';
import { fronts } from './fronts.ts';
import { saidWords } from '../meanings.ts';
import type { Chosen } from './chosen.ts';
import { PileDial } from './pile-dial.tsx';
import { Companions } from './companions.tsx';
import { drawnHalves, materialChoices, sideChoices } from './piece-choices.ts';

type Values = Extract<SentEdit, { kind: 'pieces' }>['values'];

/** Everything that a set says of a piece; each field is taken at once. */
export function PiecePanel({
  piece,
  shop,
  chosen,
  edit,
  onChoose,
  onRenamed,
  children,
}: {
  readonly piece: PieceView;
  readonly shop: Shop | null;
  readonly chosen: Chosen;
  readonly edit: (edit: SentEdit) => Promise<boolean>;
  readonly onChoose: (chosen: Chosen) => void;
  /** The piece is called otherwise, or is none any more (null). */
  readonly onRenamed: (name: string | null) => void;
  readonly children?: ComponentChildren;
}): JSX.Element {
  const { name, said } = piece;
  /** How often its name was left as it was: the field shows it again. */
  const [leftAsIs, setLeftAsIs] = useState(0);
  const say = (values: Values, ...answered: string[]): void => {
    void edit({ kind: 'pieces', pieces: [name], values, answered });
  };
  const chooseSide = (side: (typeof sideChoices)[number]['value']): void =>
    side === 'pair'
      ? say({ side, drawnSide: said.drawnSide ?? 'right' }, 'side')
      : say({ side, drawnSide: null }, 'side', 'drawnSide');
  return (
    <>
      <section class="pane" aria-label="Where it belongs">
        <Choices
          label="Where it belongs"
          value={said.side}
          choices={sideChoices}
          onChange={chooseSide}
        />
        {said.side === 'pair' && (
          <Choices
            label="Which half is drawn"
            value={said.drawnSide ?? 'right'}
            choices={drawnHalves}
            onChange={(drawnSide) => say({ drawnSide }, 'drawnSide')}
          />
        )}
        {said.side === 'centre' && (
          <>
            <Choices
              label="With the other hand of drive its outline"
              value={said.outline ?? 'body'}
              choices={[
                { value: 'body', words: 'stays as it is' },
                { value: 'driver', words: 'is mirrored' },
              ]}
              onChange={(outline) => say({ outline: outline === 'body' ? null : outline })}
            />
            <Tick
              label="Only one half of it is drawn"
              checked={said.half === true}
              onChange={(half) => say({ half: half ? true : null }, 'half')}
            />
          </>
        )}
      </section>
      <section class="pane" aria-label="Cut from">
        <div class="row">
          <Select
            label="Cut from"
            value={said.material}
            choices={materialChoices(said.material, shop)}
            onChange={(material) => say({ material }, 'material')}
          />
          <NumberField
            label="How many in a set"
            value={said.quantity ?? 1}
            min={1}
            max={100}
            whole="A piece is cut whole"
            onChange={(quantity) => say({ quantity: quantity === 1 ? null : quantity }, 'quantity')}
          />
        </div>
      </section>
      {children}
      <ThingList piece={piece} chosen={chosen} onChoose={onChoose} />
      <More piece={piece} shop={shop} say={say} />
      <section class="pane" aria-label="The piece">
        <TextField
          label="Name"
          key={leftAsIs}
          value={name}
          fits={(text) => /^[a-z0-9]+(-[a-z0-9]+)*$/.test(text)}
          wrongWords="Small letters and digits, joined by single hyphens."
          onChange={(to) => {
            if (to === name) return;
            void edit({ kind: 'rename', piece: name, to }).then((done) =>
              done ? onRenamed(to) : setLeftAsIs((before) => before + 1),
            );
          }}
        />
        <TextField
          label="Called on papers, without its side"
          value={said.title ?? ''}
          hint="Left empty: its name in words."
          bound={shortBound}
          onChange={(title) => say({ title: title === '' ? null : title })}
        />
        <Choices
          label="In the picture, the front of the vehicle is"
          value={said.front === undefined && said.at === undefined ? '' : 'up'}
          choices={fronts}
          onChange={(front) => void edit({ kind: 'front', pieces: [name], front })}
        />
        <div class="actions">
          <button
            class="button"
            onClick={() =>
              void edit({ kind: 'drop-piece', piece: name }).then((done) => done && onRenamed(null))
            }
          >
            This is no piece
          </button>
        </div>
      </section>
    </>
  );
}

/** What is on the piece, one by one; chosen here as in the picture. */
function ThingList({
  piece,
  chosen,
  onChoose,
}: {
  readonly piece: PieceView;
  readonly chosen: Chosen;
  readonly onChoose: (chosen: Chosen) => void;
}): JSX.Element {
  const picked = new Set(chosen.kind === 'things' ? chosen.things : []);
  const things = piece.things.filter(({ role }) => role !== 'OUTLINE');
  const unsaid = things.filter(({ role, kind }) => role === null && kind !== 'text');
  const rest = things.filter((thing) => !unsaid.includes(thing));
  return (
    <section class="pane" aria-labelledby="things-title">
      <h3 id="things-title">On it</h3>
      {things.length === 0 && <p class="quiet">Nothing but its outline.</p>}
      <ul class="thing-list" role="list">
        {[...unsaid, ...rest].map((thing) => (
          <li>
            <button
              class={`thing-line${thing.role === null && thing.kind !== 'text' ? ' unsaid' : ''}`}
              aria-pressed={picked.has(thing.index)}
              onClick={(event) =>
                onChoose(
                  event.shiftKey && chosen.kind === 'things'
                    ? { kind: 'things', things: [...new Set([...chosen.things, thing.index])] }
                    : { kind: 'things', things: [thing.index] },
                )
              }
            >
              <span>
                {thing.kind === 'text' ? `“${thing.text!.words}”` : saidWords(thing.means)}
              </span>
              <span class="quiet">
                {thing.kind === 'text'
                  ? thing.means === null
                    ? 'a text'
                    : saidWords(thing.means)
                  : thing.words}
              </span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** What is said of few pieces. */
function More({
  piece,
  shop,
  say,
}: {
  readonly piece: PieceView;
  readonly shop: Shop | null;
  readonly say: (values: Values, ...answered: string[]) => void;
}): JSX.Element {
  const { said } = piece;
  return (
    <details class="pane">
      <summary>More of the piece</summary>
      <div class="stack">
        <Companions piece={piece} shop={shop} say={say} />
        {piece.things.some(({ role }) => role === 'STITCH') && (
          <TextField
            label="What its stitch lines hold, those of heel pads apart"
            value={said.stitched ?? ''}
            bound={shortBound}
            onChange={(held) => say({ stitched: held === '' ? null : held })}
          />
        )}
        <Tick
          label="Its pile leans as that of the set"
          checked={said.pile === undefined}
          onChange={(asSet) => say({ pile: asSet ? null : 'rearward' })}
        />
        {said.pile !== undefined && (
          <PileDial value={said.pile} onChange={(pile) => say({ pile })} />
        )}
        <Select
          label="Cut for"
          value={said.only ?? 'both'}
          choices={[
            { value: 'both', words: 'both hands of drive' },
            { value: 'RHD', words: 'RHD alone' },
            { value: 'LHD', words: 'LHD alone' },
          ]}
          onChange={(only) => say({ only: only === 'both' ? null : only })}
        />
        <Select
          label="On the roll"
          value={said.turns ?? ''}
          choices={[
            { value: '', words: 'as its material says' },
            { value: 'one-way', words: 'never turned' },
            { value: 'two-way', words: 'turned by half' },
            { value: 'any', words: 'turned by quarters' },
          ]}
          onChange={(turns) => say({ turns: turns === '' ? null : turns })}
        />
        <NumberField
          label="How deep its notches are"
          hint="Left empty: as its material says."
          value={said.notch ?? null}
          unit="mm"
          min={1}
          max={30}
          optional
          onChange={(notch) => say({ notch })}
        />
        <TextField
          label="Why it is right for both hands"
          hint="Where something lies on one side alone."
          value={said.decided ?? ''}
          onChange={(decided) => say({ decided: decided === '' ? null : decided })}
        />
      </div>
    </details>
  );
}
