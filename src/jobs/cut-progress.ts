import { setImmediate } from 'node:timers/promises';
import { stoppedWork } from '../base/threads/host.ts';

/** What is just being done of a cut. */
export interface CutProgress {
  readonly phase: CutPhase;
  /** In words: "papers: 12 of 30". */
  readonly doing: string;
  /** How much of the whole is done, from 0 to 1: by what each phase usually takes. */
  readonly share: number;
}

/** The phases of a cut, and what each usually takes, in shares of one. A search takes longer than its share. */
const phases = [
  ['reading', 0.1],
  ['laying', 0.15],
  ['planning', 0.15],
  ['writing', 0.05],
  ['papers', 0.4],
  ['proving', 0.15],
] as const;

type CutPhase = (typeof phases)[number][0];

/** The progress of a phase of which `done` of `of` is done. */
export function progressAt(phase: CutPhase, doing: string, done = 0, of = 1): CutProgress {
  const at = phases.findIndex(([name]) => name === phase);
  const before = phases.slice(0, at).reduce((sum, [, takes]) => sum + takes, 0);
  return { phase, doing, share: before + phases[at]![1] * (of === 0 ? 1 : done / of) };
}

/** Who looks on while files are made. */
export interface Onlooker {
  readonly told?: (progress: CutProgress) => void;
  /** It is aborted when somebody wants the work to end. */
  readonly signal?: AbortSignal;
}

/**
 * Tells how far the work is, and lets whoever waits be heard: in between it hears nothing. Throws a Refusal
 * where somebody wants the work to end.
 */
export async function beginPhase({ told, signal }: Onlooker, progress: CutProgress): Promise<void> {
  told?.(progress);
  await setImmediate();
  if (signal?.aborted === true) throw stoppedWork();
}
