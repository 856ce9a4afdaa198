import type { Finding } from '../../base/findings.ts';
import { shownNames } from '../../base/wording.ts';
import type { YamlFile } from '../../base/yaml.ts';
import type { SetContent } from '../set-file.ts';
import type { OptionalLayer } from './options.ts';

/**
 * Rule: a piece of which several outlines are drawn has one with every choice of options, unless `decided`
 * says why not: a vehicle for which a shape was forgotten would get no such piece, and nobody would know.
 * `absent`: the pieces that are not there with this choice.
 */
export function checkShapes(
  { value, placeOf }: YamlFile<SetContent>,
  layers: readonly OptionalLayer[],
  absent: ReadonlySet<string>,
): Finding[] {
  return [...absent].flatMap((piece): Finding[] => {
    const outlines = layers.filter(
      ({ means, where }) => where.piece === piece && means.startsWith('OUTLINE'),
    );
    if (outlines.length < 2 || value.pieces[piece]?.decided !== undefined) return [];
    const names = shownNames(outlines.map(({ layer }) => layer));
    return [
      {
        severity: 'warning',
        rule: 'no-shape',
        message: `the piece has ${outlines.length} outlines (${names}), and with these options none of them is there: it is not cut.`,
        todo: 'Draw its outline for such vehicles too, or say in its "decided" why they do not have it.',
        where: { ...placeOf(['pieces', piece]), piece },
      },
    ];
  });
}
