import type { JSX } from 'preact';
import type { DraftHead, PieceView } from '../../../../drafting/view.ts';
import { edgeKinds } from '../../../../pattern/words.ts';
import type { EdgeKind } from '../../../../pattern/words.ts';
import { Select, TextField } from '../../controls/fields.tsx';
import type { SentEdit } from '../../server/calls.ts';
import { benchWords, underLabels } from './edge-words.ts';

const hiderKeys = { raw: 'covered', tuck: 'tucked' } as const;

const kinds = edgeKinds.map((value) => ({ value, words: `is ${benchWords[value]}` }));

function isHidden(kind: EdgeKind | undefined): kind is 'raw' | 'tuck' {
  return kind === 'raw' || kind === 'tuck';
}

/** What happens to everything of a piece of which nothing is said by itself. */
export function RestOfPiece({
  piece: { name, said, stretches },
  edit,
}: {
  readonly piece: PieceView;
  readonly edit: (edit: SentEdit) => Promise<boolean>;
}): JSX.Element {
  const own = said.edge;
  const rest = stretches.filter(({ saidBy }) => saidBy !== 'trace');
  const say = (values: Extract<SentEdit, { kind: 'pieces' }>['values']): void => {
    void edit({ kind: 'pieces', pieces: [name], values, answered: [] });
  };
  const hider = isHidden(own) ? said[hiderKeys[own]] : undefined;
  const cover = (kind: 'raw' | 'tuck', under: string): void => {
    if (typeof hider !== 'object') say({ [hiderKeys[kind]]: under === '' ? null : under });
    else if (rest.length > 0) {
      const reaches = rest.map(({ from, to }) => ({ from, to }));
      void edit({ kind: 'edge', piece: name, stretches: reaches, edge: kind, under });
    }
  };
  return (
    <div class="rest-of-edge">
      <Select
        label="All the rest of this piece"
        value={own ?? ''}
        choices={[{ value: '', words: 'as the whole set says' }, ...kinds]}
        onChange={(edge) => say({ edge: edge === '' ? null : edge })}
      />
      {isHidden(own) && (
        <TextField
          label={underLabels[own]}
          hint="All of this kind that nothing else is said of."
          value={typeof hider === 'string' ? hider : ''}
          onChange={(under) => cover(own, under)}
        />
      )}
    </div>
  );
}

/** What happens to everything of the whole set of which nothing is said by itself. */
export function RestOfSet({
  head: { said, pieces: names },
  pieces,
  edit,
}: {
  readonly head: DraftHead;
  readonly pieces: ReadonlyMap<string, PieceView>;
  readonly edit: (edit: SentEdit) => Promise<boolean>;
}): JSX.Element {
  const own = said.edge;
  const key = isHidden(own) ? hiderKeys[own] : null;
  const hiders = names.map((name) => (key === null ? undefined : pieces.get(name)?.said[key]));
  const texts = [...new Set(hiders.filter((one) => typeof one === 'string'))];
  // What a piece says of single edges stays its own.
  const free = names.filter((_, i) => typeof hiders[i] !== 'object');
  return (
    <>
      <Select
        label="Edges of which nothing is said"
        value={own ?? ''}
        choices={[
          { value: '', words: 'are asked about' },
          { value: 'bound', words: 'are bound' },
          { value: 'seam', words: 'are sewn' },
          { value: 'tuck', words: 'are tucked under something' },
          { value: 'turned', words: 'are turned under' },
          { value: 'raw', words: 'are left raw' },
        ]}
        onChange={(edge) =>
          void edit({ kind: 'set', values: { edge: edge === '' ? null : edge }, answered: [] })
        }
      />
      {isHidden(own) && key !== null && (
        <TextField
          label={`${underLabels[own]}, on every piece`}
          hint={
            texts.length > 1
              ? 'Pieces say different things now.'
              : 'What hides them in the vehicle.'
          }
          value={texts.length === 1 ? texts[0]! : ''}
          onChange={(under) =>
            free.length > 0 &&
            void edit({
              kind: 'pieces',
              pieces: free,
              values: { [key]: under === '' ? null : under },
              answered: [],
            })
          }
        />
      )}
    </>
  );
}
