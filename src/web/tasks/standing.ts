import { changedSince } from '../../jobs/changed-since.ts';
import { laysOnRoll, restAfterAll, runsOnSameRolls } from '../../jobs/rests.ts';
import type { Roll } from '../../lay/lay.ts';
import { readRunRecord } from '../../program/record/record.ts';
import type { RunRecord } from '../../program/record/run-record.ts';
import type { Rest, RunStanding } from '../api/files.ts';
import type { KeptRoll } from '../api/roll.ts';
import type { Workshop } from '../workshop/workshop.ts';
import { inputIn, placeIn, runFolderIn } from '../workshop/workshop.ts';

/**
 * How a run folder stands beside what has changed since it was made: its run, and recuts that took from the
 * same rolls. Throws a Refusal where it is no run folder.
 */
export function standing({ shop, run }: { shop: Workshop; run: string }): RunStanding {
  const folder = runFolderIn(shop, run);
  const record = readRunRecord(placeIn(folder, 'run.json'));
  return {
    changes: changedSince(record, (file) => inputIn(shop, file)),
    rests: restsOf(record, runsOnSameRolls(folder)),
  };
}

/** What is left of the rolls of a run, where they have a name and a length. */
function restsOf(record: RunRecord, family: readonly RunRecord[]): Rest[] {
  return record.lays.flatMap((lay) => {
    const rest = restAfterAll(lay, family);
    if (rest?.name === undefined || rest.length === Infinity) return [];
    const laidOn = laysOnRoll(lay, family).flatMap(({ rollLength }) => rollLength ?? []);
    return [{ material: lay.material, roll: keptRoll(rest), laidOn }];
  });
}

function keptRoll(rest: Roll): KeptRoll['roll'] {
  const { defects = [], outline, ...others } = rest;
  // Nothing is said of what lies before the new start.
  const corners = defects.map((defect) =>
    defect.map(({ x, y }): [number, number] => [Math.max(0, x), y]),
  );
  return {
    ...others,
    defects: corners,
    ...(outline === undefined
      ? {}
      : { outline: outline.map(({ x, y }): [number, number] => [x, y]) }),
    pins: [],
    laid: [],
  };
}
