import type { RollToCut, StepTick } from '../../api/cut-steps.ts';
import { nextStep } from '../../api/cut-steps.ts';

/**
 * The roll that the desk shows: the one that somebody chose; else the one that was ticked last, as long as it has
 * steps left; else the first that has. null: all are done.
 */
export function rollToShow(
  rolls: readonly RollToCut[],
  ticks: readonly StepTick[],
  chosen: string | null,
): RollToCut | null {
  const named = (name: string | undefined): RollToCut | undefined =>
    rolls.find(({ roll }) => roll === name);
  const own = chosen === null ? undefined : named(chosen);
  if (own !== undefined) return own;
  const last = named(ticks.at(-1)?.roll);
  if (last !== undefined && nextStep(last, ticks) !== null) return last;
  return rolls.find((one) => nextStep(one, ticks) !== null) ?? null;
}
