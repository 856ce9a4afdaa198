import type { ComponentChildren, JSX } from 'preact';
import type { DraftHead, PieceView } from '../../../drafting/view.ts';
import type { Shop } from '../../api/shop.ts';
import { Choices, Select, TextField } from '../controls/fields.tsx';
import type { SentEdit } from '../server/calls.ts';
import { RestOfSet } from './edges/rest-of-edge.tsx';
import { fronts } from './fronts.ts';
import { LayerAnswers } from './layer-answers.tsx';
import { PileDial } from './pile-dial.tsx';

type Values = Extract<SentEdit, { kind: 'set' }>['values'];

/** What is said once for all pieces. */
export function SetPanel({
  head,
  pieces,
  shop,
  edit,
  children,
}: {
  readonly head: DraftHead;
  readonly pieces: ReadonlyMap<string, PieceView>;
  readonly shop: Shop | null;
  readonly edit: (edit: SentEdit) => Promise<boolean>;
  readonly children?: ComponentChildren;
}): JSX.Element {
  const { said } = head;
  const say = (values: Values, ...answered: string[]): void => {
    void edit({ kind: 'set', values, answered });
  };
  return (
    <>
      <section class="pane" aria-label="The set">
        <TextField
          label="Called"
          value={said.title}
          fits={(text) => text.length > 0 && text.length <= 100}
          wrongWords="A few words, at most 100 letters."
          onChange={(title) => say({ title }, 'title')}
        />
        <Choices
          label="The hand that is drawn"
          value={said.drawn}
          choices={[
            { value: 'RHD', words: 'RHD, driver right' },
            { value: 'LHD', words: 'LHD, driver left' },
          ]}
          onChange={(drawn) => say({ drawn }, 'drawn')}
        />
        {head.isForeign && (
          <Select
            label="Units of the drawing, where it says none"
            value={said.units ?? ''}
            choices={[
              { value: '', words: 'as the drawing says' },
              { value: 'mm', words: 'millimetres' },
              { value: 'in', words: 'inches' },
              { value: 'cm', words: 'centimetres' },
              { value: 'm', words: 'metres' },
            ]}
            onChange={(units) => say({ units: units === '' ? null : units })}
          />
        )}
        <PileDial value={said.pile ?? null} onChange={(pile) => say({ pile }, 'pile')} />
        <Select
          label="The tape of bound edges"
          value={said.binding ?? ''}
          choices={[
            { value: '', words: 'not said' },
            ...(shop?.finishes ?? []).map(({ name, title }) => ({ value: name, words: title })),
          ]}
          onChange={(binding) => say({ binding: binding === '' ? null : binding })}
        />
        <RestOfSet head={head} pieces={pieces} edit={edit} />
      </section>
      <section class="pane" aria-label="All pieces">
        <Select
          label="In the drawing, the front of the vehicle is"
          hint="For all pieces at once. Of one piece alone it is said there."
          value=""
          choices={[
            { value: '', words: said.front === undefined ? 'not said' : 'at the top, as said' },
            ...fronts,
          ]}
          onChange={(front) => {
            if (front !== '') void edit({ kind: 'front', pieces: [...head.pieces], front });
          }}
        />
        <Select
          label="Cut all of them from"
          value=""
          choices={[
            { value: '', words: 'as each piece says' },
            ...(shop?.materials ?? []).map(({ name, title }) => ({ value: name, words: title })),
          ]}
          onChange={(material) => {
            if (material === '') return;
            const all = [...head.pieces];
            void edit({
              kind: 'pieces',
              pieces: all,
              values: { material },
              answered: ['material'],
            });
          }}
        />
      </section>
      {children}
      <LayerAnswers layers={head.layers} edit={edit} />
    </>
  );
}
