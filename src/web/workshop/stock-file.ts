import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Document, isSeq, parseDocument } from 'yaml';
import { refuse } from '../../base/findings.ts';
import { publishFile } from '../../publishing/publish-file.ts';
import type { RollSheet } from '../../run/run-file.ts';
import { checkRollNames, readStock, rollSchema } from '../../run/run-file.ts';
import { leanRoll } from './run-file.ts';
import type { Workshop } from './workshop.ts';

/**
 * Keeps a roll in shared/rolls.yaml under its name, in the place of one of that material and name; all
 * else stays as it stands there. Throws a Refusal where it has no name or the file would not be read again.
 */
export function rememberRoll({ shared }: Workshop, material: string, roll: RollSheet): void {
  const { name } = roll;
  if (name === undefined) {
    refuse('roll-name', 'a roll is kept under its name.', 'Give the roll a name first.');
  }
  changeRolls(shared, material, (rolls) => [
    ...rolls.filter((one) => one.name !== name),
    { ...roll, pins: [], laid: [] },
  ]);
}

/** Takes a roll out of shared/rolls.yaml. */
export function forgetRoll({ shared }: Workshop, material: string, name: string): void {
  changeRolls(shared, material, (rolls) => rolls.filter((one) => one.name !== name));
}

function changeRolls(
  shared: string,
  material: string,
  change: (rolls: readonly RollSheet[]) => RollSheet[],
): void {
  const file = join(shared, 'rolls.yaml');
  const isThere = existsSync(file);
  const stock = isThere ? readStock(file).rolls : {};
  const known = Object.hasOwn(stock, material) ? stock[material] : undefined;
  const document = isThere ? parseDocument(readFileSync(file, 'utf8')) : newStock();
  const kept = change([known ?? []].flat()).map((roll) => rollSchema.parse(roll));
  checkRollNames({ [material]: kept }, () => ({ file }));
  const rolls = kept.map(leanRoll);
  if (rolls.length === 0) document.deleteIn(['rolls', material]);
  else document.setIn(['rolls', material], document.createNode(rolls));
  const node = document.getIn(['rolls', material]);
  if (isSeq(node)) for (const one of node.items) flowLists(one);
  publishFile(file, document.toString({ lineWidth: 0 }));
}

function newStock(): Document {
  const document = new Document({ rolls: {} });
  document.commentBefore = ' Rolls and remnants that the shop has, said as in a run file.';
  return document;
}

/** Corners of polygons stand on one line. */
function flowLists(roll: unknown): void {
  const { items } = roll as { items: { value: unknown }[] };
  for (const { value } of items) if (isSeq(value)) value.flow = true;
}
