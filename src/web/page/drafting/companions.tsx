import type { JSX } from 'preact';
import type { PieceView } from '../../../drafting/view.ts';
import type { Shop } from '../../api/shop.ts';
import { NumberField, Select } from '../controls/fields.tsx';
import type { SentEdit } from '../server/calls.ts';
import { materialChoices } from './piece-choices.ts';

type Values = Extract<SentEdit, { kind: 'pieces' }>['values'];

const secondLayers = [
  { key: 'board', words: 'A board of the same outline' },
  { key: 'underlay', words: 'An underlay of the same outline' },
] as const;

const wrapChoices = [
  { value: '', words: 'no edge' },
  { value: 'tuck', words: 'tucked edges' },
  { value: 'turned', words: 'turned edges' },
] as const;

/** What is cut besides the piece: its heel pad, a board, an underlay. */
export function Companions({
  piece: { said, things },
  shop,
  say,
}: {
  readonly piece: PieceView;
  readonly shop: Shop | null;
  readonly say: (values: Values) => void;
}): JSX.Element {
  const none = { value: '', words: 'none' };
  const choices = (own: string | undefined) => [
    none,
    ...materialChoices(own ?? '', shop, own === undefined),
  ];
  return (
    <>
      {(said.pad !== undefined || things.some(({ role }) => role === 'PAD')) && (
        <Select
          label="The heel pad is cut from"
          value={said.pad ?? ''}
          choices={choices(said.pad)}
          onChange={(pad) => say({ pad: pad === '' ? null : pad })}
        />
      )}
      {secondLayers.map(({ key, words }) => {
        const own = said[key];
        return (
          <div class="row">
            <Select
              label={words}
              value={own?.material ?? ''}
              choices={choices(own?.material)}
              onChange={(material) => say({ [key]: material === '' ? null : { ...own, material } })}
            />
            {own !== undefined && (
              <NumberField
                label="Smaller all round by"
                value={own.inset ?? 0}
                unit="mm"
                min={0}
                max={200}
                onChange={(inset) => say({ [key]: { ...own, inset } })}
              />
            )}
            {key === 'board' && said.board !== undefined && (
              <Select
                label="Wrapped round it"
                value={said.board.wraps ?? ''}
                choices={wrapChoices}
                onChange={(wraps) =>
                  say({ board: { ...said.board!, wraps: wraps === '' ? undefined : wraps } })
                }
              />
            )}
          </div>
        );
      })}
    </>
  );
}
