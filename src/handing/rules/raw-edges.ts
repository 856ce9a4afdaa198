import type { Finding } from '../../base/findings.ts';
import { middleOfPath, pathLength } from '../../geometry/paths/path.ts';
import { partError } from '../findings.ts';
import type { Part } from '../part.ts';

/** Rule: the set file says for each raw edge what covers it. */
export function checkRawEdges(part: Part): Finding[] {
  const raw = part.edges.filter(({ kind, onShow }) => kind === 'raw' && onShow);
  return raw.map(({ name, path }) => {
    const message = `nothing is said to cover the raw edge${name === null ? '' : ` "${name}"`} of ${pathLength(path).toFixed(0)} mm.`;
    const todo = 'Add "covered:" to the piece, or bind the edge.';
    return partError(part, { rule: 'raw-on-show', message, todo }, middleOfPath(path));
  });
}
