import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { RollEntry } from '../../../run/run-file.ts';
import type { SentRunFile } from '../../api/run-file.ts';
import type { Shop } from '../../api/shop.ts';
import { Choices } from '../controls/fields.tsx';
import { Findings } from '../controls/findings.tsx';
import { calls } from '../server/calls.ts';
import { useLoaded } from '../use-loaded.ts';
import type { OpenRunFile } from '../use-run-file.ts';
import { RollForm } from './roll-form.tsx';
import { plainRoll, rollEntriesOf, withRolls } from './rolls.ts';

/** What is on the machine: for each material of the run its roll, or several. */
export function RollStep({
  run,
  file,
  shop,
  onStock,
}: {
  run: OpenRunFile;
  file: SentRunFile;
  shop: Shop;
  /** Called where the shop's rolls have changed. */
  onStock: () => void;
}): JSX.Element {
  const { content } = file;
  const table = useLoaded(() => calls.layTable(file.name), [file.version]);
  const used = [...new Set(table.value?.rolls.map(({ material }) => material) ?? [])];
  const [wanted, setWanted] = useState('');
  const [at, setAt] = useState(0);
  const name = used.includes(wanted) ? wanted : used[0];
  const material = shop.materials.find((one) => one.name === name);
  if (material === undefined) {
    return (
      <>
        <Findings findings={table.findings} />
        {table.isLoading && <p class="quiet">Looking which materials are cut …</p>}
      </>
    );
  }
  const rolls = rollEntriesOf(content, material.name);
  const shown = Math.min(at, rolls.length - 1);
  const change = (next: readonly RollEntry[]): void =>
    run.change(withRolls(content, material.name, next));
  return (
    <>
      <div class="row">
        <Choices
          label="Material"
          value={material.name}
          choices={used.map((one) => ({
            value: one,
            words: shop.materials.find((card) => card.name === one)?.title ?? one,
          }))}
          onChange={(next) => {
            setWanted(next);
            setAt(0);
          }}
        />
        {rolls.length > 1 && (
          <Choices
            label="Roll"
            value={String(shown)}
            choices={rolls.map((roll, i) => ({
              value: String(i),
              words: roll.name ?? `Roll ${i + 1}`,
            }))}
            onChange={(next) => setAt(Number(next))}
          />
        )}
      </div>
      <Findings findings={table.findings} />
      <RollForm
        key={`${material.name} ${shown}`}
        material={material}
        roll={rolls[shown]!}
        stock={[shop.stock[material.name] ?? []].flat()}
        onChange={(roll) => change(rolls.map((one, i) => (i === shown ? roll : one)))}
        onStock={onStock}
        onAdd={() => {
          change([...rolls, plainRoll]);
          setAt(rolls.length);
        }}
        onRemove={
          rolls.length === 1
            ? null
            : () => {
                change(rolls.filter((_, i) => i !== shown));
                setAt(0);
              }
        }
      />
    </>
  );
}
