import type { JSX } from 'preact';
import { Findings } from '../controls/findings.tsx';
import { calls } from '../server/calls.ts';
import { useLoaded } from '../use-loaded.ts';

/** What tells two runs apart. */
export function CompareView({ before, after }: { before: string; after: string }): JSX.Element {
  const { value, findings, isLoading } = useLoaded(
    () => calls.compare(before, after),
    [before, after],
  );
  return (
    <div class="view">
      <h1>
        {before} and {after}
      </h1>
      <Findings findings={findings} />
      {value === null && isLoading && <p class="quiet">Comparing …</p>}
      {value !== null && <p class="verdict">{value.equal ? 'Equal' : 'Different'}</p>}
      {value !== null && value.lines.length > 0 && (
        <div class="wide-table" tabIndex={0} role="region" aria-label="Differences">
          <table>
            <thead>
              <tr>
                <th scope="col">What</th>
                <th scope="col">Where</th>
                <th scope="col">How</th>
              </tr>
            </thead>
            <tbody>
              {value.lines.map(({ what, where, words }) => (
                <tr>
                  <th scope="row">{what}</th>
                  <td>{where}</td>
                  <td>{words}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </div>
      )}
      {value?.pictures.map((svg) => (
        <img
          class="paper"
          src={`data:image/svg+xml,${encodeURIComponent(svg)}`}
          alt={`${before} and ${after} over each other, differences numbered as in the list below them`}
        />
      ))}
    </div>
  );
}
