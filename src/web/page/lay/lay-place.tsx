import type { JSX } from 'preact';
import { useState } from 'preact/hooks';
import type { SentRunFile } from '../../api/run-file.ts';
import { Findings } from '../controls/findings.tsx';
import { Rack } from '../rack/rack.tsx';
import { calls } from '../server/calls.ts';
import { findingsToShow } from '../server/client.ts';
import { useLoaded } from '../use-loaded.ts';
import type { OpenRunFile } from '../use-run-file.ts';
import type { PicturedLay, PicturedRoll } from '../../api/pictured.ts';
import { isOfCloth, rollName } from '../words.ts';
import { LayDesk } from './lay-desk.tsx';
import { LayNotes } from './lay-notes.tsx';
import { rackedLays } from './racked-lays.ts';
import { TellEnd } from './tell-end.tsx';
import { useLayTable } from './use-lay-table.ts';

/** Where the parts lie: searched for by the engine, moved by hand, held by pins. */
export function LayPlace({ run, file }: { run: OpenRunFile; file: SentRunFile }): JSX.Element {
  const { table, lays, trying, search, findings, setFindings } = useLayTable(run, file.version);
  // They come when they are known: the picture does not wait for them.
  const faults =
    useLoaded(() => calls.layFaults(run.name), [run.name, file.version]).value?.findings ?? [];
  const [chosen, setChosen] = useState<string | null>(null);
  const [wanted, setWanted] = useState<string | null>(null);
  const followed = search === null || search.cloth === '' ? null : search.cloth;
  const rolls = table?.rolls ?? [];
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
  if (table === null || shown === undefined) {
    return (
      <div class="view">
        <Findings findings={findings} />
        {findings.length === 0 && <p class="quiet">Laying out the table …</p>}
      </div>
    );
  }
  const find = (label: string): void => {
    const part = table.parts.find((one) => one.label === label);
    const of = rolls.filter((roll) => part !== undefined && isOfCloth(part, roll));
    const there = of.find((roll) => lays.get(rollName(roll))?.placements.some(isLabel(label)));
    const roll = there ?? of[0];
    if (roll === undefined) return;
    setChosen(rollName(roll));
    setWanted(label);
  };
  return (
    <div class="lay-place">
      <Rack
        label="Rolls"
        rolls={rackedLays(table, lays, search)}
        chosen={rollName(shown)}
        onChoose={setChosen}
      >
        <TellEnd run={run} />
      </Rack>
      <LayDesk
        key={rollName(shown)}
        run={run}
        table={table}
        roll={shown}
        lay={lays.get(rollName(shown)) ?? null}
        trying={
          trying !== null && rollName({ ...trying, name: trying.roll }) === rollName(shown)
            ? trying
            : null
        }
        search={search}
        isLaid={lays.size > 0}
        refusals={findings}
        elsewhere={laidElsewhere(lays, shown)}
        wanted={wanted}
        onFind={find}
        doing={(step) => void doing(step)}
        notes={
          <LayNotes
            findings={findings}
            unfit={search?.unfit ?? []}
            faults={search === null ? faults : []}
            onSave={
              table.isUnsaved && search === null ? () => void doing(calls.saveLays(run.name)) : null
            }
          />
        }
      />
    </div>
  );
}

function isLabel(label: string): (one: { readonly label: string }) => boolean {
  return (one) => one.label === label;
}

function laidElsewhere(
  lays: ReadonlyMap<string, PicturedLay>,
  roll: PicturedRoll,
): ReadonlySet<string> {
  const others = [...lays.values()].filter((lay) => isOfCloth(lay, roll) && lay.roll !== roll.name);
  return new Set(others.flatMap(({ placements }) => placements.map(({ label }) => label)));
}
