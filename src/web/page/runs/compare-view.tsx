import type { JSX } from 'preact';
import type { ComparedLine, RunComparison } from '../../api/runs.ts';
import { Findings } from '../controls/findings.tsx';
import { calls } from '../server/calls.ts';
import { useLoaded } from '../use-loaded.ts';
import { counted } from '../words.ts';
import { BothOver } from './both-over.tsx';
import { firstLines } from './first-lines.ts';

/** What tells two runs apart: what matters most, then both over each other, then line by line. */
export function CompareView({ before, after }: { before: string; after: string }): JSX.Element {
  const { value, findings, isLoading } = useLoaded(
    () => calls.compare(before, after),
    [before, after],
  );
  return (
    <div class="view compare">
      <h1>
        {before} and {after}
      </h1>
      <Findings findings={findings} />
      {value === null && isLoading && <p class="quiet">Comparing …</p>}
      {value !== null && (
        <>
          <p class="compare-sentence" role="status">
            {value.sentence}
          </p>
          {value.sheets.length > 0 && (
            <BothOver sheets={value.sheets} before={before} after={after} />
          )}
          {!value.equal && <Lines comparison={value} />}
          <Notes notes={value.notes} />
          {value.paper !== null && (
            <details>
              <summary>As a sheet of paper, with what differs enlarged, before and after</summary>
              <img
                class="paper"
                src={`data:image/svg+xml,${encodeURIComponent(value.paper)}`}
                alt={`${before} and ${after} over each other, differences numbered as in the list below them`}
              />
            </details>
          )}
        </>
      )}
    </div>
  );
}

/** What was not compared, and what is as before. */
function Notes({ notes }: { notes: RunComparison['notes'] }): JSX.Element | null {
  if (notes.length === 0) return null;
  return (
    <section class="compare-notes" aria-labelledby="compare-notes-title">
      <h2 id="compare-notes-title">As before, or not compared</h2>
      <ul>
        {notes.map((note) => (
          <li>{note}</li>
        ))}
      </ul>
    </section>
  );
}

/** No more lines than this are seen before somebody asks for all. */
const mostFirst = 12;

function Lines({ comparison: { groups, count } }: { comparison: RunComparison }): JSX.Element {
  const first = firstLines(groups, mostFirst);
  const all = groups.reduce((sum, { lines }) => sum + lines.length, 0);
  const isAll = all <= mostFirst;
  return (
    <section aria-labelledby="differences-title" class="compare-lines">
      <h2 id="differences-title">
        {isAll ? counted(count, 'difference') : 'What differs, the gravest first'}
      </h2>
      <LineTable groups={first} name="Differences, the gravest first" />
      {!isAll && (
        <details>
          <summary>All {counted(count, 'difference')}</summary>
          <LineTable groups={groups} name="All differences" />
        </details>
      )}
    </section>
  );
}

function LineTable({
  groups,
  name,
}: {
  groups: RunComparison['groups'];
  name: string;
}): JSX.Element {
  return (
    <div class="wide-table" tabIndex={0} role="region" aria-label={name}>
      <table>
        <thead>
          <tr>
            <th scope="col">What</th>
            <th scope="col">Where</th>
            <th scope="col">How</th>
          </tr>
        </thead>
        {groups.map(({ heading, count, lines }) => (
          <tbody>
            <tr class="compare-group">
              <th scope="rowgroup" colSpan={3}>
                {heading} ({count})
              </th>
            </tr>
            {lines.map(line)}
          </tbody>
        ))}
      </table>
    </div>
  );
}

function line({ what, where, words }: ComparedLine): JSX.Element {
  return (
    <tr>
      <th scope="row">{what}</th>
      <td>{where}</td>
      <td>{words}</td>
    </tr>
  );
}
