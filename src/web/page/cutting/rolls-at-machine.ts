import { recordedName } from '../../../program/record/run-record.ts';
import type { RollToCut, StepTick } from '../../api/cut-steps.ts';
import { bitesCut, isCut, nextStep, restOfLay } from '../../api/cut-steps.ts';
import type { RunFolder } from '../../api/files.ts';
import type { RackedRoll } from '../rack/racked-roll.ts';
import type { RollAtMachine } from './step-words.ts';
import { rollState } from './step-words.ts';

/** The rolls of a run folder, each with what the words of its steps are made of. */
export function rollsAtMachine({ lays, rolls, work, machine, rests }: RunFolder): RollAtMachine[] {
  return lays.map((lay, i) => {
    const rest = restOfLay(lay, rests);
    return {
      key: recordedName(lay),
      roll: rolls[i]!,
      lay,
      work: work[i]!,
      machine,
      rest: rest === null ? null : { name: rest.roll.name!, length: rest.roll.length! },
    };
  });
}

/** A roll as it stands in the rack. */
export function rackedRoll(
  at: RollAtMachine,
  roll: RollToCut,
  ticks: readonly StepTick[],
): RackedRoll {
  const next = nextStep(roll, ticks);
  const isBegun = next !== 'load' && next !== null;
  return {
    key: at.key,
    words: at.key,
    sample: at.roll.sample,
    state: rollState(at, next),
    tone: isCut(at.key, ticks) ? 'done' : isBegun ? 'busy' : 'waits',
    ...(isBegun ? { share: bitesCut(at.key, ticks).length / roll.bites } : {}),
  };
}
