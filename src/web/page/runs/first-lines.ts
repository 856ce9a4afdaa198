import type { RunComparison } from '../../api/runs.ts';

type Groups = RunComparison['groups'];

/**
 * At most so many lines, from every group in turn, so that each grave thing is seen and no group drives the others
 * out. Groups and lines keep their order.
 */
export function firstLines(groups: Groups, most: number): Groups {
  const taken = groups.map(() => 0);
  for (let left = most; left > 0;) {
    const open = groups.flatMap(({ lines }, i) => (taken[i]! < lines.length ? [i] : []));
    if (open.length === 0) break;
    for (const i of open.slice(0, left)) taken[i]!++;
    left -= Math.min(open.length, left);
  }
  return groups.flatMap((group, i) =>
    taken[i] === 0 ? [] : [{ ...group, lines: group.lines.slice(0, taken[i]) }],
  );
}
