import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { Question } from '../../../drafting/questions.ts';
import type { DraftHead, PieceView } from '../../../drafting/view.ts';
import type { Shop } from '../../api/shop.ts';
import { Choices, NumberField, Select, TextField } from '../controls/fields.tsx';
import type { SentEdit } from '../server/calls.ts';
import { drawnHalves, materialChoices, pileWays, sideChoices } from './piece-choices.ts';

/** Questions about what is drawn, which no value answers. */
const toRead: ReadonlySet<string> = new Set([
  'texts',
  'left-out',
  'numbered-layers',
  'layers',
  'options',
]);

/**
 * The answer to a question of the set file: what is guessed is right, or something else is. `also`: other
 * pieces of which the same is asked.
 */
export function Answer({
  question,
  piece,
  head,
  shop,
  also,
  onAnswer,
}: {
  readonly question: Question & { readonly key: string };
  /** null: it is about the set. */
  readonly piece: PieceView | null;
  readonly head: DraftHead;
  readonly shop: Shop | null;
  readonly also: readonly string[];
  readonly onAnswer: (edit: SentEdit) => void;
}): JSX.Element {
  const { key } = question;
  const answer = (
    values: Readonly<Record<string, unknown>>,
    answered: readonly string[] = [key],
    pieces: readonly string[] = piece === null ? [] : [piece.name],
  ): void =>
    onAnswer(
      piece === null
        ? { kind: 'set', values, answered: [...answered] }
        : { kind: 'pieces', pieces: [...pieces], values, answered: [...answered] },
    );
  const isDoubted = piece !== null && key === 'piece';
  // A material for several pieces is chosen first; a button then says for which of them.
  const [material, setMaterial] = useState<string | null>(null);
  const isForSeveral = key === 'material' && also.length > 0;
  const choose: Answering = ({ material: other }) => setMaterial(other as string);
  const shown =
    piece === null || material === null ? piece : { ...piece, said: { ...piece.said, material } };
  const field = fieldOf(key, shown, head, shop, isForSeveral ? choose : answer);
  const said = shown === null ? undefined : shown.said[key as keyof PieceView['said']];
  return (
    <>
      {field}
      <div class="actions">
        <button class="button accent" onClick={() => answer(material === null ? {} : { material })}>
          {toRead.has(key) ? 'I have looked: it is settled' : 'Yes, it is so'}
        </button>
        {isDoubted && (
          <button
            class="button"
            onClick={() => onAnswer({ kind: 'drop-piece', piece: piece.name })}
          >
            No, it is no piece
          </button>
        )}
        {piece !== null && also.length > 0 && !isDoubted && (
          <button
            class="button"
            onClick={() => answer({ [key]: said }, [key], [piece.name, ...also])}
          >
            Yes, for all {also.length + 1} that ask it
          </button>
        )}
      </div>
    </>
  );
}

type Answering = (values: Readonly<Record<string, unknown>>, answered?: readonly string[]) => void;

/** The field in which another value is chosen; null: there is none here. */
function fieldOf(
  key: string,
  piece: PieceView | null,
  head: DraftHead,
  shop: Shop | null,
  answer: Answering,
): JSX.Element | null {
  if (piece === null) return fieldOfSet(key, head, answer);
  const { said } = piece;
  switch (key) {
    case 'side':
      return (
        <Choices
          label="It belongs to"
          value={said.side}
          choices={sideChoices}
          onChange={(side) =>
            side === 'pair'
              ? answer({ side, drawnSide: said.drawnSide ?? 'right' })
              : answer({ side, drawnSide: null }, ['side', 'drawnSide'])
          }
        />
      );
    case 'drawnSide':
      return (
        <Choices
          label="Drawn is"
          value={said.drawnSide ?? ''}
          choices={drawnHalves}
          onChange={(drawnSide) => answer({ drawnSide })}
        />
      );
    case 'material':
      return (
        <Select
          label="Cut from"
          value={said.material}
          choices={materialChoices(said.material, shop)}
          onChange={(material) => answer({ material })}
        />
      );
    case 'quantity':
      return (
        <NumberField
          label="How many in a set"
          value={said.quantity ?? 1}
          min={1}
          max={100}
          whole="A piece is cut whole"
          onChange={(quantity) => answer({ quantity })}
        />
      );
    case 'half':
      return (
        <div class="actions">
          <button class="button" onClick={() => answer({ half: null })}>
            No, it is drawn whole
          </button>
        </div>
      );
    default:
      return null;
  }
}

function fieldOfSet(key: string, { said }: DraftHead, answer: Answering): JSX.Element | null {
  switch (key) {
    case 'title':
      return (
        <TextField label="Called" value={said.title} onChange={(title) => answer({ title })} />
      );
    case 'drawn':
      return (
        <Choices
          label="Drawn is"
          value={said.drawn}
          choices={[
            { value: 'RHD', words: 'RHD, driver right' },
            { value: 'LHD', words: 'LHD, driver left' },
          ]}
          onChange={(drawn) => answer({ drawn })}
        />
      );
    case 'pile':
      return (
        <Choices
          label="It leans"
          value={typeof said.pile === 'string' ? said.pile : ''}
          choices={pileWays}
          onChange={(pile) => answer({ pile })}
        />
      );
    default:
      return null;
  }
}
