import { existsSync, readdirSync, readFileSync, realpathSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import type { Roll } from '../lay/lay.ts';
import { restLength, restOutline } from '../lay/rest.ts';
import { fingerprintOf } from '../program/record/fingerprint.ts';
import { recordedLay } from '../program/record/lay-record.ts';
import type { LayRecord, RunRecord } from '../program/record/run-record.ts';
import { recordIn } from './other-run.ts';

/**
 * What a lay left on its roll, if the roll was cut off square behind the last part: lengths in mm, see
 * `restLength`. null: nothing.
 */
export function restOfRoll(lay: LayRecord): Roll | null {
  const { roll, length: taken } = recordedLay(lay);
  const length = restLength(roll, taken) ?? Infinity;
  if (length === 0) return null;
  const moved = roll.defects!.map((defect) => defect.map(({ x, y }) => ({ x: x - taken, y })));
  return {
    ...roll,
    length,
    defects: moved.filter((defect) => defect.some(({ x }) => x > 0)),
    ...(roll.outline === undefined ? {} : { outline: restOutline(roll.outline, taken) }),
  };
}

/**
 * What is left of the roll of a lay once its run and all recuts are cut that take from the same roll: mm, as
 * restOfRoll has it. `family` is what runsOnSameRolls gives. What one of them has taken is left to no other.
 */
export function restAfterAll(lay: LayRecord, family: readonly RunRecord[]): Roll | null {
  const lays = laysOnRoll(lay, family);
  const measured = lays.flatMap((one) => {
    const { rollLength, length } = one;
    return rollLength === null ? [] : [{ lay: one, rollLength, left: rollLength - length }];
  });
  if (measured.length === 0) return restOfRoll({ ...lay, length: lengthOf(lays) });
  // Each lies on what those before it left; where two were laid on the same cloth, both have taken of it.
  const whole = Math.max(...measured.map(({ rollLength }) => rollLength));
  const last = measured.reduce((least, one) => (one.left < least.left ? one : least));
  const left = Math.min(last.left, whole - lengthOf(measured.map((one) => one.lay)));
  return restOfRoll({ ...last.lay, length: last.rollLength - left });
}

/** The lays of a family that are cut from the roll of this one: of its cloth, and of its name. */
export function laysOnRoll(
  { material, colour, roll }: LayRecord,
  family: readonly RunRecord[],
): LayRecord[] {
  return family
    .flatMap(({ lays }) => lays)
    .filter((one) => one.material === material && one.colour === colour && one.roll === roll);
}

function lengthOf(lays: readonly LayRecord[]): number {
  return lays.reduce((sum, { length }) => sum + length, 0);
}

/** A run folder, with what tells to which run it belongs. */
interface Relative {
  readonly folder: string;
  readonly fingerprint: string;
  /** The fingerprint of the run whose parts it cuts again; undefined: it is no recut. */
  readonly recutOf: string | undefined;
}

/**
 * The record of a run folder, and of those beside it that are cut from the same rolls: the run whose parts it
 * cuts again, and all recuts of it. `except` is a folder that is about to be written over.
 */
export function runsOnSameRolls(folder: string, except?: string): RunRecord[] {
  const path = resolve(folder);
  const others = readdirSync(dirname(path)).map((name) => join(dirname(path), name));
  const relatives = [path, ...others]
    .filter((one) => except === undefined || !isSameFolder(one, except))
    .flatMap(relativeIn);
  // Copies of a folder are one.
  const known = [...new Map(relatives.map((one) => [one.fingerprint, one])).values()];
  const own = relatives[0]?.fingerprint;
  const family = new Set(known.filter(({ fingerprint }) => fingerprint === own));
  for (let before = -1; before !== family.size;) {
    before = family.size;
    for (const one of known) {
      if ([...family].some((other) => isOf(one, other) || isOf(other, one))) family.add(one);
    }
  }
  return [...family].flatMap((one) => recordIn(one.folder) ?? []);
}

function isOf({ recutOf }: Relative, { fingerprint }: Relative): boolean {
  return recutOf === fingerprint;
}

/** Whether two paths lead to one folder. What is not there is no folder. */
export function isSameFolder(one: string, other: string): boolean {
  return existsSync(one) && existsSync(other) && realpathSync(one) === realpathSync(other);
}

/** Records are long and many, so only what stands at the head of one is read here. */
function relativeIn(folder: string): Relative[] {
  const file = join(folder, 'run.json');
  if (!existsSync(file)) return [];
  const text = readFileSync(file, 'utf8');
  const recutOf = /"recutOf":\s*\{[^{}]*"fingerprint":\s*"([0-9a-f]+)"/.exec(text)?.[1];
  return [{ folder, fingerprint: fingerprintOf(text), recutOf }];
}
