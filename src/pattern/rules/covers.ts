import type { Finding } from '../../findings.ts';
import type { YamlFile } from '../../yaml.ts';
import type { Piece } from '../piece.ts';
import type { SetSheet } from '../set-file.ts';

/** What is said to cover an edge covers one: else the decision hangs in the air, and some edge is without. */
export function checkCovers(
  { placeOf }: YamlFile<SetSheet>,
  { name, sheet, features }: Piece,
): Finding[] {
  const { covered, edge } = sheet;
  if (covered === undefined) return [];
  const raw = features.filter(({ role }) => role === 'RAW');
  const hanging = (path: readonly string[], message: string, todo: string): Finding => ({
    severity: 'warning',
    rule: 'covers-nothing',
    message,
    todo,
    where: { ...placeOf(['pieces', name, ...path]), piece: name },
  });
  if (typeof covered === 'string') {
    if (raw.length > 0 || edge === 'raw') return [];
    const message = `something is said to cover raw edges of "${name}", and it has none.`;
    return [hanging(['covered'], message, 'Trace the raw edges on RAW, or remove "covered:".')];
  }
  const names = [...new Set(raw.flatMap((one) => (one.name === null ? [] : [one.name])))];
  return Object.keys(covered)
    .filter((key) => !names.includes(key))
    .map((key) => {
      const message = `"${covered[key]!}" is said to cover an edge "${key}" of "${name}", and no raw edge of it has that name.`;
      const todo = `Named raw edges: ${names.join(', ') || 'none; put a text beside the line on RAW'}.`;
      return hanging(['covered', key], message, todo);
    });
}
