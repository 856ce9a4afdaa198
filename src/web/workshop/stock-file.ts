import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { refuse } from '../../base/findings.ts';
import { namesIn } from '../../base/named-file.ts';
import { cutShort, shownNames, wholeMm } from '../../base/wording.ts';
import { publishFile } from '../../publishing/publish-file.ts';
import type { RollEntry } from '../../run/run-file.ts';
import { checkRollNames, readStock, rollSchema, stockSchema } from '../../run/run-file.ts';
import type { Rest } from '../api/files.ts';
import { leanRolls } from './run-file.ts';
import type { Workshop } from './workshop.ts';
import { changedYaml } from '../../base/yaml-edit/edit.ts';
import type { Values } from '../../base/yaml-edit/editing.ts';
import { blockText } from '../../base/yaml-edit/write.ts';

/**
 * Keeps a roll in shared/rolls.yaml, in the place of one of that material, colour and name. Every other line of
 * the file stays as it stands. Throws a Refusal where the roll has no name or is of no material of the
 * shop, and where the file cannot be read or written.
 */
export function rememberRoll({ shared }: Workshop, material: string, roll: RollEntry): void {
  const { name } = roll;
  if (name === undefined) {
    refuse('roll-name', 'a roll is kept under its name.', 'Give the roll a name first.');
  }
  const materials = namesIn(join(shared, 'materials'));
  if (!materials.includes(material)) {
    refuse(
      'roll-material',
      `the shop has no material "${cutShort(material, 40)}".`,
      `There are: ${shownNames(materials)}.`,
    );
  }
  const kept = { ...roll, pins: [], laid: [] };
  changeRolls(shared, material, (rolls) =>
    rolls.some((one) => isCalled(one, roll))
      ? rolls.map((one) => (isCalled(one, roll) ? kept : one))
      : [...rolls, kept],
  );
}

/**
 * Keeps what is left of a roll, unless it is kept so already, and says in words what it did. Throws a Refusal
 * where the shop keeps a length of it that is none on which the run or its recuts were laid, and no longer: it
 * was cut from since, and what was taken then would be there again.
 */
export function rememberRest(shop: Workshop, { material, roll, laidOn }: Rest): string {
  const kept = rollsIn(shop.shared, material).find((one) => isCalled(one, roll))?.length;
  const [name, left] = [roll.name!, wholeMm(roll.length!)];
  if (kept === roll.length) return `${name} is kept with ${left} already.`;
  if (kept !== undefined && kept < Math.max(...laidOn) && !laidOn.includes(kept)) {
    refuse(
      'rest-kept',
      `the shop keeps ${name} with ${wholeMm(kept)}, and this run was laid on ${wholeMm(Math.max(...laidOn))} of it: it was cut from since, or measured anew.`,
      `Measure what is left of ${name}, and remember that at the roll.`,
    );
  }
  rememberRoll(shop, material, roll);
  const instead = kept === undefined ? '' : ` instead of ${wholeMm(kept)}`;
  return `${name} is kept in shared/rolls.yaml with ${left}${instead}.`;
}

/** Takes a roll out of shared/rolls.yaml; one that is not there is gone already. */
export function forgetRoll(
  { shared }: Workshop,
  material: string,
  name: string,
  colour?: string,
): void {
  changeRolls(shared, material, (rolls) => rolls.filter((one) => !isCalled(one, { name, colour })));
}

/** Whether a roll has this name among those of its colour: each colour has names of its own. */
function isCalled(roll: RollEntry, { name, colour }: Pick<RollEntry, 'name' | 'colour'>): boolean {
  return roll.name === name && roll.colour === colour;
}

/** The rolls of a material that the shop keeps. */
function rollsIn(shared: string, material: string): readonly RollEntry[] {
  const file = join(shared, 'rolls.yaml');
  const stock = existsSync(file) ? readStock(file).rolls : {};
  return Object.hasOwn(stock, material) ? [stock[material]!].flat() : [];
}

function changeRolls(
  shared: string,
  material: string,
  change: (rolls: readonly RollEntry[]) => RollEntry[],
): void {
  const file = join(shared, 'rolls.yaml');
  const isThere = existsSync(file);
  const stock = isThere ? readStock(file).rolls : {};
  const { [material]: entries, ...others } = stock;
  const known = Object.hasOwn(stock, material) ? entries! : [];
  const kept = change([known].flat()).map((roll) => rollSchema.parse(roll));
  checkRollNames({ [material]: kept }, () => ({ file }));
  const rolls = leanRolls(kept.length === 0 ? others : { ...stock, [material]: kept });
  const text = isThere
    ? changedYaml(readFileSync(file, 'utf8'), { rolls }, saysOf)
    : blockText({ rolls }, 'Rolls and remnants that the shop has, said as in a run file.');
  publishFile(file, text);
}

function saysOf(plain: unknown): Values | null {
  const read = stockSchema.safeParse(plain);
  return read.success ? { rolls: leanRolls(read.data.rolls) } : null;
}
