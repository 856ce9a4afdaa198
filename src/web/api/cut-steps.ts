import { recordedName } from '../../program/record/run-record.ts';

/**
 * What is done at the machine with each roll of a run, step by step. Each step is ticked once it is done;
 * the ticks are kept in out/<run>.marks.yaml.
 */

/** A step as it is written in the file: `bite 3` is the third bite. */
export type CutStep = 'load' | 'dry' | `bite ${number}` | 'labels' | 'parts' | 'rest';

/** A roll of a run, as far as its steps depend on it. */
export interface RollToCut {
  /** What its files are called by. */
  readonly roll: string;
  readonly bites: number;
  /** Whether something is left of it that can be booked. */
  readonly hasRest: boolean;
}

/** That a step is done. */
export interface StepTick {
  readonly roll: string;
  readonly step: CutStep;
  /** When it was ticked: ISO 8601, UTC. */
  readonly at: string;
}

/** A run folder, as far as the steps of its rolls depend on it. */
interface FolderToCut {
  readonly lays: readonly {
    readonly material: string;
    readonly colour: string | null;
    readonly roll: string | null;
  }[];
  readonly work: readonly { readonly bites: readonly unknown[] }[];
  readonly rests: readonly RestOfRoll[];
}

interface RestOfRoll {
  readonly material: string;
  readonly roll: { readonly name?: string | undefined; readonly colour?: string | undefined };
}

/** The rolls of a run folder, in the order of its lays. */
export function rollsToCut({ lays, work, rests }: FolderToCut): RollToCut[] {
  return lays.map((lay, i) => ({
    roll: recordedName(lay),
    bites: work[i]!.bites.length,
    hasRest: restOfLay(lay, rests) !== null,
  }));
}

/** What is left of the roll of a lay, among all that is left; null: nothing that can be booked. */
export function restOfLay<T extends RestOfRoll>(
  { material, colour, roll }: FolderToCut['lays'][number],
  rests: readonly T[],
): T | null {
  const isIts = (rest: T): boolean =>
    rest.material === material && rest.roll.name === roll && (rest.roll.colour ?? null) === colour;
  return rests.find(isIts) ?? null;
}

/** The steps of a roll, in their order. */
export function stepsOf({ bites, hasRest }: RollToCut): CutStep[] {
  const each = Array.from({ length: bites }, (_, i): CutStep => `bite ${i + 1}`);
  return ['load', 'dry', ...each, 'labels', 'parts', ...(hasRest ? (['rest'] as const) : [])];
}

/** The number of the bite that a step cuts, counted from 1; null: it cuts none. */
export function biteInStep(step: CutStep): number | null {
  return step.startsWith('bite ') ? Number(step.slice('bite '.length)) : null;
}

/** The steps of a roll that are ticked. */
export function tickedOf(ticks: readonly StepTick[], roll: string): ReadonlySet<CutStep> {
  return new Set(ticks.filter((tick) => tick.roll === roll).map(({ step }) => step));
}

/** The step of a roll that comes next; null: it is done. */
export function nextStep(roll: RollToCut, ticks: readonly StepTick[]): CutStep | null {
  const ticked = tickedOf(ticks, roll.roll);
  return stepsOf(roll).find((step) => !ticked.has(step)) ?? null;
}

/** The step of a roll that was ticked last, as its steps go; null: none. */
export function lastTicked(roll: RollToCut, ticks: readonly StepTick[]): CutStep | null {
  const ticked = tickedOf(ticks, roll.roll);
  return stepsOf(roll).findLast((step) => ticked.has(step)) ?? null;
}

/** The numbers of the bites of a roll that are cut. */
export function bitesCut(roll: string, ticks: readonly StepTick[]): number[] {
  return [...tickedOf(ticks, roll)].flatMap((step) => biteInStep(step) ?? []).sort((a, b) => a - b);
}

/** Whether a roll is cut and all of its parts are there. */
export function isCut(roll: string, ticks: readonly StepTick[]): boolean {
  return tickedOf(ticks, roll).has('parts');
}

/** How far the cutting of a run is. */
export interface CuttingCard {
  /**
   * `unknown`: its marks cannot be read. `cut`: all parts of all rolls are there. `before`: it was begun with files made
   * before these.
   */
  readonly state: 'none' | 'begun' | 'before' | 'cut' | 'unknown';
  /** How many bites of all its rolls are cut, of how many. */
  readonly bites: number;
  readonly of: number;
}

/** How far the cutting of these rolls is. */
export function cuttingCard(rolls: readonly RollToCut[], ticks: readonly StepTick[]): CuttingCard {
  const isDone = rolls.length > 0 && rolls.every(({ roll }) => isCut(roll, ticks));
  return {
    state: isDone ? 'cut' : ticks.length > 0 ? 'begun' : 'none',
    bites: rolls.reduce((sum, { roll }) => sum + bitesCut(roll, ticks).length, 0),
    of: rolls.reduce((sum, { bites }) => sum + bites, 0),
  };
}
