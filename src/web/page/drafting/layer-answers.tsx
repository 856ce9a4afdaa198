import type { JSX } from 'preact';
import type { LayerView } from '../../../drafting/view.ts';
import { Select } from '../controls/fields.tsx';
import type { SentEdit } from '../server/calls.ts';
import { counted } from '../words.ts';
import { roleWords } from '../meanings.ts';

/** Layers whose names say nothing: what each means in this set. */
export function LayerAnswers({
  layers,
  edit,
}: {
  readonly layers: readonly LayerView[];
  readonly edit: (edit: SentEdit) => Promise<boolean>;
}): JSX.Element | null {
  if (layers.length === 0) return null;
  const choices = [
    { value: '', words: 'not said: different things' },
    ...Object.entries(roleWords).map(([value, words]) => ({ value, words })),
  ];
  return (
    <section class="pane" aria-labelledby="layers-title">
      <h3 id="layers-title">Layers of the drawing</h3>
      <ul class="layer-tray" role="list">
        {layers.map(({ name, count, pieces, means }) => (
          <li>
            <Select
              label={name}
              hint={`${counted(count, 'thing')} in ${pieces.length === 1 ? pieces[0]! : counted(pieces.length, 'piece')}`}
              value={means ?? ''}
              choices={
                means === null || means in roleWords
                  ? choices
                  : [...choices, { value: means, words: means }]
              }
              onChange={(next) =>
                void edit({
                  kind: 'layer',
                  layer: name,
                  means: next === '' ? null : next,
                  piece: null,
                })
              }
            />
          </li>
        ))}
      </ul>
    </section>
  );
}
