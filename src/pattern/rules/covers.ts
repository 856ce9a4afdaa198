import type { Finding } from '../../base/findings.ts';
import type { YamlFile } from '../../base/yaml.ts';
import type { Piece } from '../piece.ts';
import { featuresForAll } from '../piece.ts';
import type { SetContent } from '../set-file.ts';

/**
 * The keys of the set file that say what hides an edge, with the kind of edge and the words for messages.
 */
const hiders = [
  { key: 'covered', kind: 'raw', role: 'RAW', does: 'cover', edges: 'raw edges', one: 'raw edge' },
  {
    key: 'tucked',
    kind: 'tuck',
    role: 'TUCK',
    does: 'be over',
    edges: 'tuck edges',
    one: 'tuck edge',
  },
] as const;

/**
 * Rule: what the set file says to hide an edge must have such an edge to hide. Otherwise a decision was
 * written down for an edge that does not exist.
 */
export function checkCovers(yaml: YamlFile<SetContent>, piece: Piece): Finding[] {
  return hiders.flatMap((hider) => checkHider(yaml, piece, hider));
}

function checkHider(
  { placeOf }: YamlFile<SetContent>,
  piece: Piece,
  { key, kind, role, does, edges, one }: (typeof hiders)[number],
): Finding[] {
  const { name, entry } = piece;
  const said = entry[key];
  if (said === undefined) return [];
  const traced = featuresForAll(piece).filter((feature) => feature.role === role);
  const hanging = (path: readonly string[], message: string, todo: string): Finding => ({
    severity: 'warning',
    rule: 'covers-nothing',
    message,
    todo,
    where: { ...placeOf(['pieces', name, ...path]), piece: name },
  });
  if (typeof said === 'string') {
    if (traced.length > 0 || entry.edge === kind) return [];
    const message = `something is said to ${does} ${edges} of "${name}", and it has none.`;
    return [hanging([key], message, `Trace the ${edges} on ${role}, or remove "${key}:".`)];
  }
  const names = [...new Set(traced.flatMap((line) => (line.name === null ? [] : [line.name])))];
  return Object.keys(said)
    .filter((edge) => !names.includes(edge))
    .map((edge) => {
      const message = `"${said[edge]!}" is said to ${does} an edge "${edge}" of "${name}", and no ${one} of it has that name.`;
      const todo = `Named ${edges}: ${names.join(', ') || `none; put a text beside the line on ${role}`}.`;
      return hanging([key, edge], message, todo);
    });
}
