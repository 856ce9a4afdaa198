import type { JSX } from 'preact';
import { useRef, useState } from 'preact/hooks';
import type { Finding } from '../../../base/findings.ts';
import type { RunFolder } from '../../api/files.ts';
import type { Shop } from '../../api/shop.ts';
import { addressOf } from '../address.ts';
import { Select } from '../controls/fields.tsx';
import { Findings } from '../controls/findings.tsx';
import { RollPicture } from '../roll-picture/roll-picture.tsx';
import { chosen } from '../roll-picture/selecting.ts';
import { calls } from '../server/calls.ts';
import { findingsToShow } from '../server/client.ts';
import { isOfCloth } from '../words.ts';
import { picked } from './picked.ts';
import type { RollAtMachine } from './step-words.ts';

const nobody: ReadonlySet<string> = new Set();

/** Parts of a roll that were lost or spoilt are clicked in its picture, several one after the other, and cut again. */
export function SpoiltParts({
  folder,
  shop,
  at: { key, roll, lay },
}: {
  folder: RunFolder;
  shop: Shop | null;
  at: RollAtMachine;
}): JSX.Element {
  const [selected, setSelected] = useState<ReadonlySet<string>>(nobody);
  const [remnant, setRemnant] = useState('');
  const [isBusy, setBusy] = useState(false);
  const [findings, setFindings] = useState<readonly Finding[]>([]);
  const remnants = [shop?.stock[lay.material] ?? []]
    .flat()
    .filter((one) => isOfCloth(lay, { material: lay.material, colour: one.colour ?? null }))
    .flatMap(({ name }) => name ?? []);
  const recut = async (): Promise<void> => {
    setBusy(true);
    try {
      const made = await calls.recut(folder.name, {
        labels: [...selected],
        remnant: remnant === '' ? null : remnant,
      });
      location.hash = addressOf('out', made.name);
    } catch (error) {
      setFindings(findingsToShow(error));
      setBusy(false);
    }
  };
  const isAdding = useRef(false);
  const heedKeys = ({ shiftKey, ctrlKey, metaKey }: MouseEvent | KeyboardEvent): void => {
    isAdding.current = shiftKey || ctrlKey || metaKey;
  };
  return (
    <section class="spoilt" aria-label="Spoilt or lost parts">
      <div class="spoilt-picture" onPointerDownCapture={heedKeys} onKeyDownCapture={heedKeys}>
        <RollPicture
          label={`Lay of ${key} as it was cut`}
          roll={roll}
          parts={folder.parts}
          placements={lay.placements}
          pinned={nobody}
          length={lay.length}
          selected={selected}
          onSelect={(next) => setSelected(picked(selected, next, isAdding.current))}
        />
      </div>
      <div class="row spoilt-row">
        <Select
          label="Part by name"
          value=""
          choices={[
            { value: '', words: 'Choose a part' },
            ...lay.placements.map(({ label }) => ({
              value: label,
              words: selected.has(label) ? `${label} (chosen)` : label,
            })),
          ]}
          onChange={(label) => label !== '' && setSelected(chosen(selected, label, true))}
        />
        <Select
          label="Cut from"
          value={remnant}
          choices={[
            { value: '', words: 'What the run left on its roll' },
            ...remnants.map((one) => ({ value: one, words: one })),
          ]}
          onChange={setRemnant}
        />
        <div class="actions">
          <button
            class="button accent large"
            disabled={selected.size === 0 || isBusy}
            onClick={() => void recut()}
          >
            {isBusy ? 'Laying and proving …' : `Cut ${selected.size === 1 ? 'it' : 'them'} again`}
          </button>
          {selected.size > 0 && (
            <button class="button" onClick={() => setSelected(nobody)}>
              Choose none
            </button>
          )}
        </div>
      </div>
      <p role="status">
        {selected.size === 0 ? 'No part chosen.' : `Chosen: ${[...selected].join(', ')}`}
      </p>
      <Findings findings={findings} />
    </section>
  );
}
