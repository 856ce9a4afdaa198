import type { Finding } from '../../base/findings.ts';
import type { YamlFile } from '../../base/yaml.ts';
import { materialKey, usesOf } from '../choice.ts';
import type { SetContent } from '../set-file.ts';
import type { Use } from '../words.ts';

/**
 * Rule: a use that pieces name has its usual material, and a use that has one is named by pieces: an order
 * that chooses for it would otherwise change nothing. `isMaterial`: whether the shop has a material of
 * that name.
 */
export function checkUses(
  { value, placeOf }: YamlFile<SetContent>,
  isMaterial: (name: string) => boolean,
): Finding[] {
  const named = [...usesOf(value)].flatMap(([piece, own]) =>
    Object.entries(own).map(([kind, use]) => ({
      use,
      path: ['pieces', piece, materialKey(kind)],
    })),
  );
  const known = Object.keys(value.uses ?? {}) as Use[];
  const idle = known.filter((use) => !named.some((one) => one.use === use));
  const unknown = named.filter(({ use }) => !known.includes(use) && !isMaterial(use));
  return [
    ...idle.map((use): Finding => ({
      severity: 'error',
      rule: 'use-idle',
      message: `the set says what its ${use} is, and no piece names that use.`,
      todo: `Write "${use}" instead of a material where a piece is cut from it, or take it out of "uses".`,
      where: placeOf(['uses', use]),
    })),
    ...unknown.map(({ use, path }): Finding => ({
      severity: 'error',
      rule: 'use-unknown',
      message: `the piece is to be of the ${use} of the set, and the set does not say what that is.`,
      todo: `Add "uses: { ${use}: NAME }" with the name of a file in shared/materials.`,
      where: placeOf(path),
    })),
  ];
}
