import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { Finding } from '../../../base/findings.ts';
import type { RunFolder } from '../../api/files.ts';
import type { KeptRoll } from '../../api/roll.ts';
import { Findings } from '../controls/findings.tsx';
import { calls } from '../server/calls.ts';
import { findingsToShow } from '../server/client.ts';
import { metresDown, rollName } from '../words.ts';

/** What is left of each roll once the run is cut, to be remembered for the next one. */
export function Rests({ folder }: { folder: RunFolder }): JSX.Element | null {
  const [said, setSaid] = useState('');
  const [findings, setFindings] = useState<readonly Finding[]>([]);
  if (!folder.proven || folder.rests.length === 0) return null;
  const keep = async (rest: KeptRoll): Promise<void> => {
    try {
      await calls.rememberRoll(rest);
      setFindings([]);
      setSaid(`${rest.roll.name!} is kept in shared/rolls.yaml with what is left of it.`);
    } catch (error) {
      setFindings(findingsToShow(error));
    }
  };
  return (
    <section class="pane" aria-labelledby="rests-title">
      <h2 id="rests-title">Left on the rolls</h2>
      <p class="quiet">
        From a square cut behind the last part on. Press this once the run is cut.
      </p>
      <ul class="stock" role="list">
        {folder.rests.map((rest) => (
          <li>
            <span>
              <strong>{rest.roll.name}</strong>,{' '}
              {rollName({ material: rest.material, colour: rest.roll.colour ?? null, name: null })}:{' '}
              {metresDown(rest.roll.length!)}
            </span>
            <button class="button" onClick={() => void keep(rest)}>
              Remember what is left of {rest.roll.name}
            </button>
          </li>
        ))}
      </ul>
      <p role="status">{said}</p>
      <Findings findings={findings} />
    </section>
  );
}
