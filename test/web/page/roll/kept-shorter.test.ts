import { expect, it } from 'vitest';
import { keptShorter } from '../../../../src/web/page/roll/kept-shorter.ts';
import { plainRoll } from '../../../../src/web/page/roll/rolls.ts';

it('warns of a roll of which the shop keeps less than the run takes to be there', () => {
  const roll = (length?: number, name = 'S-14', colour: string | null = null) => ({
    ...plainRoll(colour),
    name,
    ...(length === undefined ? {} : { length }),
  });
  const stock = [roll(1860)];
  expect(keptShorter(roll(9000), stock, false)[0]!.message).toContain('1.86 m');
  expect(keptShorter(roll(), stock, false)).toHaveLength(1);
  expect(keptShorter(roll(1860), stock, false)).toEqual([]);
  expect(keptShorter(roll(9000), stock, true)).toEqual([]);
  expect(keptShorter(roll(9000, 'S-15'), stock, false)).toEqual([]);
  expect(keptShorter(roll(9000, 'S-14', 'sand'), stock, false)).toEqual([]);
});
