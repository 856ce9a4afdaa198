import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { Finding } from '../../../base/findings.ts';
import type { RunFolder } from '../../api/files.ts';
import type { Shop } from '../../api/shop.ts';
import { addressOf } from '../address.ts';
import { Choices, Select } from '../controls/fields.tsx';
import { Findings } from '../controls/findings.tsx';
import { RollPicture } from '../roll-picture/roll-picture.tsx';
import { chosen } from '../roll-picture/selecting.ts';
import { calls } from '../server/calls.ts';
import { findingsToShow } from '../server/client.ts';
import { isOfCloth, rollName } from '../words.ts';

const nobody: ReadonlySet<string> = new Set();

/** Parts that were lost or spoilt are clicked in the lay and cut again. */
export function Recut({ folder, shop }: { folder: RunFolder; shop: Shop | null }): JSX.Element {
  const [at, setAt] = useState(0);
  const [selected, setSelected] = useState<ReadonlySet<string>>(nobody);
  const [remnant, setRemnant] = useState('');
  const [isBusy, setBusy] = useState(false);
  const [findings, setFindings] = useState<readonly Finding[]>([]);
  const lay = folder.lays[Math.min(at, folder.lays.length - 1)];
  const roll = folder.rolls[Math.min(at, folder.lays.length - 1)];
  if (lay === undefined || roll === undefined) return <></>;
  const rests = [shop?.stock[lay.material] ?? []]
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
  return (
    <section class="pane" aria-labelledby="recut-title">
      <h2 id="recut-title">Cut parts again</h2>
      <p>Click the parts that were lost or spoilt, or choose them by name.</p>
      {folder.lays.length > 1 && (
        <Choices
          label="Roll"
          value={String(at)}
          choices={folder.rolls.map((one, i) => ({ value: String(i), words: rollName(one) }))}
          onChange={(next) => setAt(Number(next))}
        />
      )}
      <div class="roll-picture low">
        <RollPicture
          label={`Lay of ${rollName(roll)} as it was cut`}
          roll={roll}
          parts={folder.parts}
          placements={lay.placements}
          pinned={nobody}
          length={lay.length}
          selected={selected}
          onSelect={setSelected}
        />
      </div>
      <div class="row">
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
            ...rests.map((one) => ({ value: one, words: one })),
          ]}
          onChange={setRemnant}
        />
      </div>
      <p role="status">
        {selected.size === 0 ? 'No part chosen.' : `Chosen: ${[...selected].join(', ')}`}
      </p>
      <Findings findings={findings} />
      <div class="actions">
        <button
          class="button accent"
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
    </section>
  );
}
