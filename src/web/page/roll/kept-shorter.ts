import type { Finding } from '../../../base/findings.ts';
import type { RollEntry } from '../../../run/run-file.ts';
import { metresDown } from '../words.ts';

/** A warning for a roll of which the shop keeps less than the run takes to be there: it was cut from since. */
export function keptShorter(
  roll: RollEntry,
  stock: readonly RollEntry[],
  isCut: boolean,
): readonly Finding[] {
  const kept = stock.find(({ name, colour }) => name === roll.name && colour === roll.colour);
  if (isCut || roll.name === undefined || kept?.length === undefined) return [];
  if (roll.length !== undefined && roll.length <= kept.length) return [];
  const said =
    roll.length === undefined
      ? 'does not say how long it is'
      : `takes ${metresDown(roll.length)} to be there`;
  return [
    {
      severity: 'warning',
      rule: 'kept-shorter',
      message: `the shop keeps ${roll.name} with ${metresDown(kept.length)}, and this run ${said}.`,
      todo: 'Load it as the shop keeps it, or measure what is left of it.',
      where: {},
    },
  ];
}
