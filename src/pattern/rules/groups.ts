import type { Finding } from '../../base/findings.ts';
import { shownNames } from '../../base/wording.ts';
import type { YamlFile } from '../../base/yaml.ts';
import type { SetContent } from '../set-file.ts';
import { sides } from '../words.ts';

/** Rule: a group has a name of its own, and holds pieces of the set, or one side of them. */
export function checkGroups({ value, placeOf }: YamlFile<SetContent>): Finding[] {
  const pieces = Object.keys(value.pieces);
  const known = new Set(
    pieces.flatMap((name) => [name, ...sides.map((side) => `${name}-${side}`)]),
  );
  return Object.entries(value.groups ?? {}).flatMap(([group, members]) => [
    ...(known.has(group) ? [sameName(group, placeOf(['groups', group]))] : []),
    ...members.flatMap((member, i): Finding[] =>
      known.has(member)
        ? []
        : [
            {
              severity: 'error',
              rule: 'group-member',
              message: `the group "${group}" names "${member}", and no piece is called so.`,
              todo: `Pieces: ${shownNames(pieces, 12)}; with -left or -right behind it one side of a piece.`,
              where: placeOf(['groups', group, i]),
            },
          ],
    ),
  ]);
}

function sameName(group: string, where: Finding['where']): Finding {
  return {
    severity: 'error',
    rule: 'group-name',
    message: `"${group}" is a group and a piece: an order could not tell them apart.`,
    todo: 'Give the group another name.',
    where,
  };
}
