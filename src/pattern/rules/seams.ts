import type { Finding } from '../../base/findings.ts';
import type { YamlFile } from '../../base/yaml.ts';
import type { SetContent } from '../set-file.ts';

/**
 * Rule: seams name pieces that exist. Their edges are compared with each other later, in the parts of
 * each hand.
 */
export function checkSeamNames({ value, placeOf }: YamlFile<SetContent>): Finding[] {
  return value.seams.flatMap((seam, i) =>
    seam.join.flatMap((ref, j): Finding[] => {
      const name = ref.split('/')[0]!;
      if (value.pieces[name] !== undefined) return [];
      return [
        {
          severity: 'error',
          rule: 'seam-piece',
          message: `the seam names a piece "${name}", and the set has none of that name.`,
          todo: `Pieces: ${Object.keys(value.pieces).join(', ')}.`,
          where: placeOf(['seams', i, 'join', j]),
        },
      ];
    }),
  );
}
