import type { Finding } from '../../base/findings.ts';
import type { PatternSet } from '../../pattern/set.ts';
import type { Part } from '../part.ts';

/** Rule: a set with bound edges names a tape. One finding for the whole set. */
export function checkTape(parts: readonly Part[], { binding, placeOf }: PatternSet): Finding[] {
  const bound = parts.some(({ edges }) => edges.some(({ kind }) => kind === 'bound'));
  if (!bound || binding !== null) return [];
  return [
    {
      severity: 'warning',
      rule: 'no-binding',
      message: 'edges of this set are bound, and it names no tape.',
      todo: 'Add "binding:" with the name of a file in shared/bindings.',
      where: placeOf([]),
    },
  ];
}
