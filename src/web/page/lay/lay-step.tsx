import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { SentRunFile } from '../../api/run-file.ts';
import { Choices } from '../controls/fields.tsx';
import { Findings } from '../controls/findings.tsx';
import { calls } from '../server/calls.ts';
import { findingsToShow } from '../server/client.ts';
import { useLoaded } from '../use-loaded.ts';
import type { OpenRunFile } from '../use-run-file.ts';
import type { PicturedLay, PicturedRoll } from '../../api/pictured.ts';
import { capital, isOfCloth, rollName } from '../words.ts';
import { RollDesk } from './roll-desk.tsx';
import { SearchDesk } from './search-desk.tsx';
import { useLayTable } from './use-lay-table.ts';

/** Where the parts lie: searched for by the engine, moved by hand, held by pins. */
export function LayStep({ run, file }: { run: OpenRunFile; file: SentRunFile }): JSX.Element {
  const { table, lays, trying, search, findings, setFindings } = useLayTable(run, file.version);
  // They come when they are known: the picture does not wait for them.
  const faults =
    useLoaded(() => calls.layFaults(run.name), [run.name, file.version]).value?.findings ?? [];
  const [chosen, setChosen] = useState<string | null>(null);
  const followed = search === null || search.cloth === '' ? null : search.cloth;
  const rolls = table?.rolls ?? [];
  const keys = rolls.map(rollName);
  const shown =
    rolls.find((roll) => rollName(roll) === chosen) ??
    rolls.find((roll) => rollName({ ...roll, name: null }) === followed) ??
    rolls[0];
  const doing = async (step: Promise<unknown>): Promise<void> => {
    try {
      await step;
      setFindings([]);
    } catch (error) {
      setFindings(findingsToShow(error));
    }
  };
  return (
    <>
      <div class="lay-head">
        <SearchDesk
          search={search}
          isLaid={lays.size > 0}
          onBegin={(seconds) => void doing(calls.beginSearch(run.name, seconds))}
          onStop={() => void doing(calls.stopSearch(run.name))}
        />
        {rolls.length > 1 && (
          <Choices
            label="Roll"
            value={shown === undefined ? '' : rollName(shown)}
            choices={rolls.map((roll, i) => ({
              value: keys[i]!,
              words: rollName(roll),
              swatch: roll.sample,
            }))}
            onChange={setChosen}
          />
        )}
      </div>
      <Findings findings={findings} />
      {search !== null && search.unfit.length > 0 && (
        <section class="notice" role="status" aria-label="What does not fit">
          {search.unfit.slice(0, 6).map((words) => (
            <p>{capital(words)}</p>
          ))}
          {search.unfit.length > 6 && <p>And {search.unfit.length - 6} more.</p>}
        </section>
      )}
      {table !== null && shown !== undefined && (
        <RollDesk
          run={run}
          table={table}
          roll={shown}
          lay={lays.get(rollName(shown)) ?? null}
          trying={
            trying !== null && rollName({ ...trying, name: trying.roll }) === rollName(shown)
              ? trying
              : null
          }
          isSearching={search !== null}
          elsewhere={laidElsewhere(lays, shown)}
          doing={(step) => void doing(step)}
        />
      )}
      {table?.isUnsaved === true && search === null && (
        <section class="notice stack">
          <p>
            <strong>Not saved.</strong> What was found could not be written into the run file. It is
            kept as long as the server runs.
          </p>
          <div>
            <button class="button accent" onClick={() => void doing(calls.saveLays(run.name))}>
              Save it now
            </button>
          </div>
        </section>
      )}
      {faults.length > 0 && search === null && (
        <section class="notice stack">
          <p>
            <strong>What was laid no longer fits.</strong> The roll, the orders or the patterns have
            changed since.
          </p>
          <Findings findings={faults.slice(0, 12)} />
        </section>
      )}
      {table !== null && table.findings.length > 0 && (
        <details>
          <summary>What is worth a look in this run ({table.findings.length})</summary>
          <Findings findings={table.findings} />
        </details>
      )}
    </>
  );
}

function laidElsewhere(
  lays: ReadonlyMap<string, PicturedLay>,
  roll: PicturedRoll,
): ReadonlySet<string> {
  const others = [...lays.values()].filter((lay) => isOfCloth(lay, roll) && lay.roll !== roll.name);
  return new Set(others.flatMap(({ placements }) => placements.map(({ label }) => label)));
}
