import { setImmediate } from 'node:timers/promises';
import { stoppedWork } from '../base/threads/host.ts';

/** What is just being done of a cut. */
export interface CutStep {
  readonly stage: Stage;
  /** In words: "papers: 12 of 30". */
  readonly doing: string;
  /** How much of the whole is done, from 0 to 1: by what each stage usually takes. */
  readonly share: number;
}

/** The stages of a cut, and what each usually takes, in shares of one. A search takes longer than its share. */
const stages = [
  ['reading', 0.1],
  ['laying', 0.15],
  ['planning', 0.15],
  ['writing', 0.05],
  ['papers', 0.4],
  ['proving', 0.15],
] as const;

type Stage = (typeof stages)[number][0];

/** The step of a stage of which `done` of `of` is done. */
export function stepIn(stage: Stage, doing: string, done = 0, of = 1): CutStep {
  const at = stages.findIndex(([name]) => name === stage);
  const before = stages.slice(0, at).reduce((sum, [, takes]) => sum + takes, 0);
  return { stage, doing, share: before + stages[at]![1] * (of === 0 ? 1 : done / of) };
}

/** Who looks on while files are made. */
export interface Onlooker {
  readonly told?: (step: CutStep) => void;
  /** It is aborted when somebody wants the work to end. */
  readonly signal?: AbortSignal;
}

/**
 * Tells a step, and lets whoever waits be heard: the work between two steps hears nothing. Throws a Refusal
 * where somebody wants the work to end.
 */
export async function beginStep({ told, signal }: Onlooker, step: CutStep): Promise<void> {
  told?.(step);
  await setImmediate();
  if (signal?.aborted === true) throw stoppedWork();
}
