import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { Finding } from '../../../base/findings.ts';
import type { RollEntry } from '../../../run/run-file.ts';
import type { MaterialCard } from '../../api/shop.ts';
import { Findings } from '../controls/findings.tsx';
import { calls } from '../server/calls.ts';
import { findingsToShow } from '../server/client.ts';
import { metresDown } from '../words.ts';

/** Rolls that are remembered from one visit to the next. */
export function Stock({
  material,
  roll,
  stock,
  onChange,
  onStock,
}: {
  material: MaterialCard;
  roll: RollEntry;
  /** Those of this cloth. */
  stock: readonly RollEntry[];
  onChange: (roll: RollEntry) => void;
  onStock: () => void;
}): JSX.Element {
  const [findings, setFindings] = useState<readonly Finding[]>([]);
  const [said, setSaid] = useState('');
  const doing = async (step: Promise<unknown>, words: string): Promise<void> => {
    try {
      await step;
      setFindings([]);
      setSaid(words);
      onStock();
    } catch (error) {
      setFindings(findingsToShow(error));
    }
  };
  const { name } = roll;
  const remember = async (): Promise<void> => {
    if (name === undefined) return setSaid('Give the roll a name first.');
    await doing(
      calls.rememberRoll({ material: material.name, roll: { ...roll, pins: [], laid: [] } }),
      `${name} is kept in shared/rolls.yaml.`,
    );
  };
  const forget = (one: string): Promise<void> =>
    doing(calls.forgetRoll(material.name, one, roll.colour), `${one} is forgotten.`);
  return (
    <section aria-labelledby="stock-title" class="stack">
      <h3 id="stock-title">Rolls of the shop</h3>
      <ul class="stock" role="list">
        {stock.map((one) => (
          <li>
            <span>
              <strong>{one.name ?? 'without a name'}</strong>
              {one.length !== undefined && `, ${metresDown(one.length)}`}
              {one.dyeLot !== undefined && `, dye lot ${one.dyeLot}`}
            </span>
            <button
              class="button"
              aria-label={`Load ${one.name ?? 'this roll'}`}
              onClick={() => onChange({ ...one, pins: [], laid: [] })}
            >
              Load
            </button>
            {one.name !== undefined && (
              <button
                class="button"
                aria-label={`Forget ${one.name}`}
                onClick={() => void forget(one.name!)}
              >
                Forget
              </button>
            )}
          </li>
        ))}
      </ul>
      {stock.length === 0 && (
        <p class="quiet">
          None of this material{roll.colour === undefined ? '' : ` in ${roll.colour}`} is
          remembered.
        </p>
      )}
      <button class="button" onClick={() => void remember()}>
        {name === undefined ? 'Give it a name to remember it' : `Remember ${name}`}
      </button>
      <p role="status">{said}</p>
      <Findings findings={findings} />
    </section>
  );
}
