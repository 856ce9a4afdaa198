import type { Finding } from '../../base/findings.ts';
import { partError } from '../findings.ts';
import type { Part } from '../part.ts';

/** Rule: no two parts of a set have the same name. */
export function checkLabels(parts: readonly Part[]): Finding[] {
  const seen = new Set<string>();
  return parts.flatMap((part) => {
    if (!seen.has(part.name)) {
      seen.add(part.name);
      return [];
    }
    const message = `two parts of a set would both be labelled "${part.name}".`;
    const todo = 'Rename a piece, or keep one heel pad a side.';
    return [partError(part, { rule: 'same-label', message, todo })];
  });
}
