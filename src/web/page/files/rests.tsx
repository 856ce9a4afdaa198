import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { Finding } from '../../../base/findings.ts';
import type { Rest, RunFolder } from '../../api/files.ts';
import { Findings } from '../controls/findings.tsx';
import { calls } from '../server/calls.ts';
import { findingsToShow } from '../server/client.ts';
import { metresDown, rollName } from '../words.ts';

/** What is left of each roll once the run is cut, to be remembered for the next one. */
export function Rests({ folder }: { folder: RunFolder }): JSX.Element | null {
  const [words, setSaid] = useState('');
  const [findings, setFindings] = useState<readonly Finding[]>([]);
  if (!folder.proven || folder.rests.length === 0) return null;
  const keep = async ({ material, roll: { colour, name } }: Rest): Promise<void> => {
    try {
      const { said } = await calls.rememberRest(folder.name, {
        material,
        colour: colour ?? null,
        name: name!,
      });
      setFindings([]);
      setSaid(said);
    } catch (error) {
      setFindings(findingsToShow(error));
      setSaid('');
    }
  };
  return (
    <section class="pane" aria-labelledby="rests-title">
      <h2 id="rests-title">Left on the rolls</h2>
      <p class="quiet">
        From a square cut behind the last part on, and less what was cut again from it. Press this
        once all of it is cut.
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
      <p role="status">{words}</p>
      <Findings findings={findings} />
    </section>
  );
}
