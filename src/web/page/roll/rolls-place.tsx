import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { RollEntry } from '../../../run/run-file.ts';
import type { SentRunFile } from '../../api/run-file.ts';
import type { MaterialCard, Shop } from '../../api/shop.ts';
import { Choices } from '../controls/fields.tsx';
import { Findings } from '../controls/findings.tsx';
import { calls } from '../server/calls.ts';
import { useLoaded } from '../use-loaded.ts';
import type { OpenRunFile } from '../use-run-file.ts';
import { RollForm } from './roll-form.tsx';
import type { OfCloth } from '../words.ts';
import { isOfCloth, rollName } from '../words.ts';
import { keptShorter } from './kept-shorter.ts';
import { clothsOf, isInColour, plainRoll, rollEntriesOf, sampleOf, withRolls } from './rolls.ts';

/** What is on the machine: for each cloth of the run, a material in a colour, its roll or several. */
export function RollsPlace({
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
  const cut = table.value?.rolls ?? [];
  const cloths = clothsOf(content, cut).filter(({ material }) => cardOf(material, shop) !== null);
  const [wanted, setWanted] = useState('');
  const [at, setAt] = useState(0);
  const cloth = cloths.find((one) => clothKey(one) === wanted) ?? cloths[0];
  if (cloth === undefined || (table.value === null && table.isLoading)) {
    return (
      <>
        <Findings findings={table.findings} />
        {table.isLoading && <p class="quiet">Looking which materials are cut …</p>}
      </>
    );
  }
  const material = cardOf(cloth.material, shop)!;
  const rolls = rollEntriesOf(content, cloth);
  const shown = Math.min(at, rolls.length - 1);
  const smallOnes = (table.value?.small ?? [])
    .filter((one) => isOfCloth(one, cloth) && one.roll === (rolls[shown]!.name ?? null))
    .map(({ finding }) => finding);
  const shorterInShop = keptShorter(
    rolls[shown]!,
    [shop.stock[material.name] ?? []].flat(),
    shop.runs.find(({ name }) => name === file.name)?.cutting.state === 'cut',
  );
  const change = (next: readonly RollEntry[]): void => run.change(withRolls(content, cloth, next));
  const leaveOut = (): void => {
    change(rolls.filter((_, i) => i !== shown));
    setAt(0);
  };
  // A roll that no order wants may go, even the last of its cloth.
  const isIdle = !cut.some((one) => isOfCloth(one, cloth));
  return (
    <>
      <div class="row">
        <Choices
          label="Material"
          value={clothKey(cloth)}
          choices={cloths.map((one) => {
            const card = cardOf(one.material, shop)!;
            return {
              value: clothKey(one),
              words: one.colour === null ? card.title : `${card.title}, ${one.colour}`,
              swatch: sampleOf(card, one.colour),
            };
          })}
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
      <Findings findings={[...table.findings, ...smallOnes, ...shorterInShop]} />
      <RollForm
        key={`${clothKey(cloth)} ${shown}`}
        material={material}
        roll={rolls[shown]!}
        taken={rolls.flatMap((one, i) => (i === shown ? [] : [one.name ?? String(i + 1)]))}
        stock={[shop.stock[material.name] ?? []]
          .flat()
          .filter((roll) => isInColour(roll, cloth.colour))}
        onChange={(roll) => change(rolls.map((one, i) => (i === shown ? roll : one)))}
        onStock={onStock}
        onAdd={() => {
          change([...rolls, plainRoll(cloth.colour)]);
          setAt(rolls.length);
        }}
        onRemove={rolls.length === 1 && !isIdle ? null : leaveOut}
      />
    </>
  );
}

function clothKey({ material, colour }: OfCloth): string {
  return rollName({ material, colour, name: null });
}

function cardOf(material: string, { materials }: Shop): MaterialCard | null {
  return materials.find(({ name }) => name === material) ?? null;
}
